package desk

import (
	"context"

	"seatward/basis"
	"seatward/catalog"
	"seatward/station"
	"seatward/study"
)

// ConfigureRequest asks what a valve can be made of.
type ConfigureRequest struct {
	Text  string `json:"text"`
	Valve string `json:"valve"`
	Picks []Pick `json:"picks"`
	Units string `json:"units,omitempty"`
}

// Pick is a choice of an option, by their IDs.
type Pick struct {
	Option string `json:"option"`
	Choice string `json:"choice"`
}

// ConfigureReply is a legal choice of everything.
type ConfigureReply struct {
	Valve   string   `json:"valve"`
	Code    string   `json:"code"`
	Options []Option `json:"options"`
	Open    []Open   `json:"open"` // rules that could not be held
	Bill    []Part   `json:"bill"`
	Mass    string   `json:"mass"` // texts in the station's units; empty where not known
	Rating  string   `json:"rating"`
	Notes   []string `json:"notes"`
}

// Option is one option as it stands.
type Option struct {
	ID     string           `json:"id"`
	Title  string           `json:"title"`
	Choice string           `json:"choice"`
	How    string           `json:"how"`
	Left   []string         `json:"left"`
	Barred []catalog.Barred `json:"barred"`
}

// Open is a rule that wants a fact that is not known.
type Open struct {
	Needs []string `json:"needs"`
	catalog.Reason
}

// Part is a line of the bill of materials.
type Part struct {
	Part     string `json:"part"`
	Material string `json:"material"`
	Standard string `json:"standard"`
	Mass     string `json:"mass"`
	By       string `json:"by"` // the option that fills the line; empty for the family's own
}

// Configure completes the picks to a configuration that the catalog's rules allow, for the
// valve in this station. Position and service of the station count unless a pick says
// otherwise; where they do not go with the valve, a note tells it.
func (d *Desk) Configure(_ context.Context, in ConfigureRequest) (*ConfigureReply, error) {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	it, err := catalog.Find(d.catalogs, in.Valve)
	if err != nil {
		return nil, NoAnswer(err)
	}
	own, err := picked(it.Family, in.Picks)
	if err != nil {
		return nil, err
	}
	made, err := study.Configure(st, it, own)
	if err != nil {
		return nil, &Error{ID: "configuration-barred", Text: err.Error(), Mend: "take another choice"}
	}
	var notes []string
	if made.Apart != nil {
		notes = append(notes, "It does not go with the place of this station: "+made.Apart.Error()+".")
	}
	return configured(made.Configuration, st, notes), nil
}

// Picks are the choices of a request as the catalog has them.
func Picks(in []Pick) []catalog.Pick {
	var out []catalog.Pick
	for _, p := range in {
		out = append(out, catalog.Pick{Option: p.Option, Choice: p.Choice})
	}
	return out
}

// picked checks the picks of a request.
func picked(f *catalog.Family, picks []Pick) ([]catalog.Pick, error) {
	out, err := f.NamedAll(Picks(picks))
	if err != nil {
		return nil, &Error{
			ID: "choice-unknown", Text: err.Error(),
			Mend: "take an option and a choice that are listed",
		}
	}
	return out, nil
}

// configured words a configuration in the units of the station.
func configured(cfg *catalog.Configuration, st *station.Station, notes []string) *ConfigureReply {
	text := func(v basis.Value) string {
		if !v.Known() {
			return ""
		}
		return v.Format(st.Units)
	}
	out := &ConfigureReply{
		Valve: cfg.Item.ID, Code: cfg.Code(), Options: []Option{}, Open: []Open{}, Bill: []Part{}, Mass: text(cfg.Mass),
		Rating: text(cfg.Rating),
		Notes:  append(append([]string{}, notes...), cfg.Say...),
	}
	for _, s := range cfg.Options {
		o := Option{
			ID: s.Option.ID, Title: s.Option.Title, How: s.How, Left: append([]string{}, s.Left...),
			Barred: append([]catalog.Barred{}, s.Barred...),
		}
		if s.Choice != nil {
			o.Choice = s.Choice.ID
		}
		out.Options = append(out.Options, o)
	}
	for _, o := range cfg.Open {
		out.Open = append(out.Open, Open{append([]string{}, o.Needs...), o.Reason})
	}
	for _, p := range cfg.Parts {
		out.Bill = append(out.Bill, Part{p.Name, p.Material.Material, p.Standard, text(p.Mass), p.By})
	}
	return out
}
