package document

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"seatward/diag"
	"seatward/judge"
)

// Kind is a kind of document.
type Kind struct {
	ID, Title string
	What      string // what it holds, in a line
	Format    string // that it is handed over in, as a rule
	Trip      bool   // it tells pump trips that were run through
	Compares  bool   // it sets several valves side by side
	Decides   bool   // a decision rests on it
	Large     bool   // large type, on one page
	Spoken    bool   // it is complete in the languages that come with the program
	write     func(*sheet)
}

// Kinds lists every kind, in the order in which a job needs them. A new kind is one file
// and one line here.
func Kinds() []Kind {
	return []Kind{
		{
			ID: "datasheet", Title: "Check valve data sheet", What: "what the valve is and what it does in this station",
			Format: "pdf", Decides: true, Spoken: true, write: writeDatasheet,
		},
		{
			ID: "comparison", Title: "Comparison of check valves",
			What: "valves side by side, with their cost over the years", Format: "xlsx", Compares: true, Decides: true,
			write: writeComparison,
		},
		{
			ID: "specification", Title: "Check valve specification",
			What: "a section in three parts, with choices and notes", Format: "docx", Decides: true,
			write: writeSpecification,
		},
		{
			ID: "calculation", Title: "Preliminary calculation for review",
			What: "inputs, method, results, what was not checked", Format: "pdf", Trip: true, Decides: true,
			write: writeCalculation,
		},
		{
			ID: "submittal", Title: "Check valve submittal",
			What: "compliance paragraph by paragraph, with all that goes with it", Format: "pdf", Trip: true,
			Decides: true, write: writeSubmittal,
		},
		{
			ID: "request", Title: "Request for quotation", What: "what is wanted, and the facts still missing",
			Format: "docx", Decides: true, write: writeRequest,
		},
		{
			ID: "installation", Title: "Installation sheet", What: "making safe, lifting, setting, back to service",
			Format: "pdf", Decides: true, Spoken: true, write: writeInstallation,
		},
		{
			ID: "test-form", Title: "Shell and seat test form", What: "test pressures, and blanks for what is measured",
			Format: "pdf", write: writeTestForm,
		},
		{
			ID: "commissioning", Title: "Commissioning checklist",
			What: "stop tests from mild to severe, limits, blanks", Format: "pdf",
			Decides: true, Spoken: true, write: writeCommissioning,
		},
		{
			ID: "maintenance", Title: "Maintenance sheet",
			What: "making safe, lifting, inspection, back to service", Format: "pdf",
			Decides: true, Spoken: true, write: writeMaintenance,
		},
		{
			ID: "fieldcard", Title: "Field card", What: "one page for the crew, in both unit systems", Format: "pdf",
			Decides: true, Large: true, Spoken: true, write: writeFieldcard,
		},
	}
}

// KindNamed finds a kind.
func KindNamed(id string) (Kind, error) {
	var all []string
	for _, k := range Kinds() {
		if k.ID == id {
			return k, nil
		}
		all = append(all, k.ID)
	}
	return Kind{}, fmt.Errorf("no document is called %q; %s", id, diag.Meant(id, all))
}

// Make writes a document of the kind.
func (s *Dossier) Make(k Kind) *Document {
	if w := s.Wording.plain; w != nil && !k.Spoken { // half a translation would be worse
		own := *s
		own.Wording = w
		s = &own
	}
	p, st := s.Profile, s.Study.Station
	d := &Document{
		Kind: k.ID, Title: s.Wording.say(k.Title), Language: s.Wording.Language, Units: s.units(), Paper: s.Paper,
		Large:  k.Large,
		Number: p.Number.Text, Revision: p.Revision.Text, Date: p.Date.Text, Company: p.Company.Text,
		Author: p.Author.Text, Logo: s.Logo,
		Program: s.Program, Hash: s.hash(k), Mark: s.Wording.say("Preliminary, for review"),
	}
	d.Words = Words{
		Contents: s.Wording.say("Contents"), Page: s.Wording.say("Page {n} of {total}"),
		Figure:  s.Wording.say("Figure {n}. {caption}"),
		Foot:    s.Wording.say("no. {number}  ·  revision {revision}  ·  {date}"),
		Undrawn: s.Wording.say("{box} stands for characters that this paper's fonts do not have: {characters}."),
		Labels:  map[string]string{},
	}
	for _, l := range labels {
		d.Words.Labels[l] = s.Wording.say(l)
	}
	d.Subject = s.Assessment.Item.Family.Title + ", " + s.Assessment.Item.Size.Format(s.units()) + "; " + st.Name
	if k.Compares {
		d.Subject = st.Name
	}
	if !k.Compares && s.Assessment.Verdict == judge.Unsuitable {
		d.Subject += "; " + s.Wording.say("UNSUITABLE for this station")
	}
	w := &sheet{Dossier: s, d: d}
	for _, f := range []struct{ name, text string }{
		{"document number", d.Number},
		{"revision", d.Revision},
		{"date", d.Date},
		{"company", d.Company},
		{"prepared by", d.Author},
	} {
		if f.text == "" {
			w.missing(f.name)
		}
	}
	w.head(k)
	for _, t := range s.Wording.before[k.ID] {
		w.put(Paragraph{Text: t})
	}
	k.write(w)
	for _, t := range s.Wording.after[k.ID] {
		w.put(Paragraph{Text: t})
	}
	if len(p.Notes) > 0 && !d.Large { // a card has one page
		w.heading(2, "Notes")
		for _, n := range p.Notes {
			w.put(Paragraph{Text: n.Text})
		}
	}
	w.leftBlank()
	w.finish()
	return d
}

// labels are what formats name by themselves.
var labels = []string{"Number", "Revision", "Date", "Company", "Prepared by"}

// leftBlank lists what was not given.
func (w *sheet) leftBlank() {
	if len(w.d.Missing) == 0 || w.d.Large {
		return
	}
	w.put(Paragraph{Label: w.say("Left blank, not given:"), Text: strings.Join(w.d.Missing, ", ") + ".", Tone: Source})
}

// hash names what a document was made from: the station, the valve's data, the kind and
// the program.
func (s *Dossier) hash(k Kind) string {
	c := s.Assessment.Item.Family.Catalog
	language := ""
	if s.Wording.Language != "en" {
		language = "\x00" + s.Wording.Language
	}
	sum := sha256.Sum256([]byte(strings.Join([]string{
		s.Study.Station.Hash, s.Assessment.Item.ID,
		s.Configuration.Code(), c.Maker, c.Version, c.Date, k.ID, s.Program, s.units().String() + language,
	}, "\x00")))
	return hex.EncodeToString(sum[:8])
}
