package site

import (
	"fmt"

	"seatward/basis"
	"seatward/catalog"
	"seatward/diagnosis"
	"seatward/judge"
	"seatward/station"
)

// Trouble is what was noticed at a station, with its answer and what that rests on.
type Trouble struct {
	Book     *diagnosis.Book
	Case     *diagnosis.Case
	Answer   diagnosis.Answer
	Name     string            // of the station; "" without one
	Existing string            // what its file says of the valve
	Valve    *judge.Assessment // of the present valve; nil where it is not known
	Guessed  bool              // it was found by the file's words
	NoFlow   bool              // no pump delivers
	Facts    *Facts            // nil without a station
}

// Place is what is known of a place besides its station file.
type Place struct {
	Valve    string // ID of the valve there now; "" for the one of the catalogs that is like what the file says
	Catalogs []*catalog.Catalog
	Area     basis.Value // of the wet well
}

// At adds the numbers of the station, in its units. Judged gives the assessment of the valve that
// is there now, by its ID; nil where no pump delivers.
func (t *Trouble) At(st *station.Station, in Place, judged func(valve string) (*judge.Assessment, error)) error {
	numbers, err := Of(st)
	if err != nil {
		return err
	}
	t.Name, t.Existing = st.Name, st.Valve.Existing
	valve := in.Valve
	if valve == "" {
		if it := Present(st, in.Catalogs); it != nil {
			valve, t.Guessed = it.ID, true
		}
	}
	if valve != "" {
		if t.Valve, err = judged(valve); err != nil {
			return err
		}
		t.NoFlow = t.Valve == nil
	}
	t.Facts = FactsOf(st, numbers, t.Valve)
	t.Facts.Well(in.Area, numbers, st.Units)
	t.Case.Facts, t.Case.Words = t.Facts.Known, t.Facts.Words
	return nil
}

// References are the sources of the station's numbers.
func (t *Trouble) References() []string {
	if t.Facts == nil {
		return nil
	}
	var values []basis.Value
	for _, f := range t.Facts.Numbers {
		values = append(values, f.Value)
	}
	return basis.References(values...)
}

// ValveWords say which valve the numbers are of; how says how another is named.
func (t *Trouble) ValveWords(how string) string {
	switch {
	case t.Name == "":
		return ""
	case t.NoFlow:
		return "No pump of the station file delivers: check curve and levels. The numbers of the valve are left out."
	case t.Valve == nil && t.Existing == "":
		return "The station file does not say which valve is there now (valve: existing), and none is named: its slam, velocities and minimum back head to seal are left out."
	case t.Valve == nil:
		return fmt.Sprintf("The valve there now, %q, is like none of the catalog in this size: %s to have its numbers.", t.Existing, how)
	case t.Guessed:
		return fmt.Sprintf("Present valve: %q, computed as %s; %s to name another.", t.Existing, t.Valve.Item.ID, how)
	}
	return "Present valve: " + t.Valve.Item.ID + "."
}
