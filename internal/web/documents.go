package web

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"slices"

	"seatward/diag"
	"seatward/internal/desk"
	"seatward/internal/document"
	"seatward/internal/render"
	"seatward/study"
)

// DocumentKind is a kind of document that can be written.
type DocumentKind struct {
	Kind     string   `json:"kind"`
	Title    string   `json:"title"`
	What     string   `json:"what" jsonschema_description:"What it holds"`
	Format   string   `json:"format" jsonschema_description:"In which it is handed over as a rule"`
	Formats  []string `json:"formats"`
	Compares bool     `json:"compares" jsonschema_description:"It sets several valves side by side"`
	Trip     bool     `json:"trip" jsonschema_description:"It tells pump trips, which take longer"`
}

// DocumentRequest asks for a document.
type DocumentRequest struct {
	Text     string          `json:"text" jsonschema_description:"The station file"`
	Kind     string          `json:"kind" jsonschema_description:"One of those that /api/documents lists, or all: one archive of every kind"`
	Format   string          `json:"format,omitempty" jsonschema_description:"That in which it is handed over as a rule, where left out"`
	Valve    string          `json:"valve,omitempty" jsonschema_description:"ID of the valve; the best one where left out"`
	Picks    []desk.Pick     `json:"picks,omitempty" jsonschema_description:"Options of the valve that were chosen; the rest is completed"`
	Valves   []string        `json:"valves,omitempty" jsonschema_description:"Valves of a comparison; the best ones where left out"`
	Profile  json.RawMessage `json:"profile,omitempty" jsonschema_description:"Whose papers they are: the text of a profile file, or an object with its keys"`
	Logo     []byte          `json:"logo,omitempty" jsonschema_description:"PNG or JPEG picture for the head of pages"`
	Date     string          `json:"date,omitempty" jsonschema_description:"Date of the document, year-month-day"`
	Revision string          `json:"revision,omitempty"`
	Number   string          `json:"number,omitempty"`
	Link     string          `json:"link,omitempty" jsonschema_description:"Address that opens the study, for the square code of the field card: http or https"`
	Units    string          `json:"units,omitempty" jsonschema:"enum=US,enum=SI"`
	Preview  bool            `json:"-" query:"preview"`
}

// previewFormat is what frames show.
const previewFormat = "html"

func (s *Server) documents(context.Context, struct{}) ([]DocumentKind, error) {
	var formats []string
	for _, f := range render.Formats() {
		formats = append(formats, f.Name)
	}
	var out []DocumentKind
	for _, k := range document.Kinds() {
		out = append(out, DocumentKind{k.ID, k.Title, k.What, k.Format, formats, k.Compares, k.Trip})
	}
	return out, nil
}

// document writes one document of one station.
func (s *Server) document(ctx context.Context, in DocumentRequest) (*download, error) {
	kinds := document.Kinds()
	if in.Kind != allKinds || in.Preview {
		kind, err := document.KindNamed(in.Kind)
		if err != nil {
			return nil, asked("kind", err)
		}
		kinds = []document.Kind{kind}
	}
	if _, err := render.Named(or(in.Format, previewFormat)); err != nil {
		return nil, asked("format", err)
	}
	compares := slices.ContainsFunc(kinds, func(k document.Kind) bool { return k.Compares })
	trip := slices.ContainsFunc(kinds, func(k document.Kind) bool { return k.Trip })
	req, err := in.request(s.Program)
	if err != nil {
		return nil, err
	}
	req.Rules = s.Rules
	if req.Study, err = s.studyFor(ctx, &in, compares, req.Profile); err != nil {
		return nil, err
	}
	valve := in.Valve
	if valve == "" {
		best := document.Best(req.Study, 1)
		if len(best) == 0 {
			return nil, &Fault{
				Status: http.StatusUnprocessableEntity, ID: "no-valve",
				Text: "no valve can be used at " + req.Study.Station.Name, Mend: "name one to have its papers all the same",
			}
		}
		valve = best[0]
	}
	dossier, err := document.NewDossier(ctx, req.WithCompared(kinds), valve, trip)
	if pick := (*document.PickError)(nil); errors.As(err, &pick) {
		return nil, asked("picks", err)
	}
	if err != nil {
		return nil, desk.NoAnswer(err)
	}
	if in.Preview {
		return preview(dossier, kinds[0])
	}
	var files []render.Beside
	media := "application/zip"
	for _, kind := range kinds {
		made, as, err := written(dossier, kind, or(in.Format, kind.Format))
		if err != nil {
			return nil, err
		}
		files, media = append(files, made...), as
	}
	if len(files) == 1 {
		return &download{media: media, name: files[0].Name, data: files[0].Data, paper: true}, nil
	}
	name := dossier.FileName(kinds[0])
	if len(kinds) > 1 {
		name = "papers-" + document.Slug(req.Study.Station.Name)
	}
	return packed(name, files)
}

// allKinds asks for one archive of every kind.
const allKinds = "all"

// preview is a document as a frame shows it.
func preview(d *document.Dossier, kind document.Kind) (*download, error) {
	format, err := render.Named(previewFormat)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if _, err := format.Write(&buf, d.Make(kind), d.FileName(kind)); err != nil {
		return nil, err
	}
	return &download{media: "text/html; charset=utf-8", data: buf.Bytes(), paper: true}, nil
}

// written writes a document: the file, what goes beside it, and its media type.
func written(d *document.Dossier, kind document.Kind, formatName string) ([]render.Beside, string, error) {
	format, err := render.Named(formatName)
	if err != nil {
		return nil, "", asked("format", err)
	}
	var buf bytes.Buffer
	name := d.FileName(kind)
	made, err := format.Write(&buf, d.Make(kind), name)
	if err != nil {
		return nil, "", err
	}
	file := render.Beside{Name: name + "." + format.Name, Data: buf.Bytes()}
	return append([]render.Beside{file}, made.Beside...), format.MIME, nil
}

// packed is a ZIP archive of files.
func packed(name string, files []render.Beside) (*download, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range files {
		w, err := z.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.Data); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return &download{media: "application/zip", name: name + ".zip", data: out.Bytes()}, nil
}

// studyFor is the desk's study: of one valve, or of all where a choice is asked for. What the
// rows were read from is not run again.
func (s *Server) studyFor(
	ctx context.Context, in *DocumentRequest, compares bool, profile *document.ProfileFile,
) (*study.Study, error) {
	ask := desk.AnswerRequest{Text: in.Text, Valve: in.Valve, Units: or(in.Units, profile.Units.Text)}
	if in.Valve == "" || compares {
		all, _, err := s.desk.Study(ctx, ask, desk.RunsAll, nil)
		return all, err
	}
	all, valve, err := s.desk.Study(ctx, ask, desk.RunsShown, nil)
	if err != nil {
		return nil, err
	}
	one, err := all.Alone(valve)
	return one, desk.NoAnswer(err)
}

// request reads profile, logo and date.
func (in *DocumentRequest) request(program string) (document.Request, error) {
	out := document.Request{
		Wording: document.NewWording(), Program: program, Compared: in.Valves,
		Command: "seatward select station.yaml",
	}
	text := []byte(in.Profile)
	var quoted string
	if json.Unmarshal(in.Profile, &quoted) == nil {
		text = []byte(quoted)
	}
	out.Profile = &document.ProfileFile{}
	if len(bytes.TrimSpace(text)) > 0 {
		var list diag.List
		if out.Profile, list = document.ParseProfile("profile", text); list.Err() != nil {
			return out, list
		}
	}
	if in.Link != "" {
		if err := document.CheckLink(in.Link); err != nil {
			return out, asked("link", err)
		}
		out.Link = in.Link
	}
	out.Picks = desk.Picks(in.Picks)
	p := out.Profile
	if p.Logo.Text != "" {
		return out, diag.List{{
			ID: "logo", Place: p.Logo.Place, Path: "logo",
			Text: "a profile that is sent names no file", Found: p.Logo.Text, Expected: "no logo", Mend: "send the picture as logo beside the profile",
		}}
	}
	if len(in.Logo) > 0 {
		var err error
		if out.Logo, err = document.ReadLogo("that was sent", in.Logo); err != nil {
			return out, asked("logo", err)
		}
	}
	if err := out.Take(out.Profile, document.Overrides{
		Date: in.Date, Revision: in.Revision,
		Number: in.Number,
	}); err != nil {
		return out, asked("date", err)
	}
	return out, nil
}

// asked is a fault in one field of a request.
func asked(field string, err error) error {
	return &Fault{
		Status: http.StatusUnprocessableEntity, ID: field, Text: err.Error(),
		Messages: []Message{{ID: field, Path: field, Text: err.Error()}},
	}
}
