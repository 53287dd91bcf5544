package site

import (
	"seatward/basis"
	"seatward/diagnosis"
	"seatward/internal/program"
)

// DiagnosisSchema names the machine form of a diagnosis.
const DiagnosisSchema = "seatward.diagnosis/1"

// Diagnosis is the machine form of a diagnosis.
type Diagnosis struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Station string          `json:"station,omitempty"`
	Valve   string          `json:"present_valve,omitempty" jsonschema_description:"ID of the valve of the catalog that stands for the one there now"`
	Order   string          `json:"order" jsonschema_description:"What the order of the causes rests on"`
	Signs   []string        `json:"signs"`
	Found   []FoundLine     `json:"found"`
	Causes  []CauseLine     `json:"causes" jsonschema_description:"The most likely first"`
	Next    []TestLine      `json:"next_tests" jsonschema_description:"The next one first"`
	Facts   []FactLine      `json:"facts"`
	Sources []string        `json:"references"`
}

type FoundLine struct {
	Test    string `json:"test"`
	Reading string `json:"reading"`
}

type CauseLine struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Standing string   `json:"standing" jsonschema:"enum=strongly supported,enum=supported,enum=cannot be excluded,enum=less likely,enum=ruled out by a test"`
	For      []string `json:"for"`
	Against  []string `json:"against"`
	Shows    []string `json:"would_show"`
	Lacking  []string `json:"not_known"`
	Source   string   `json:"source"`
	Status   string   `json:"status"`
}

type TestLine struct {
	ID      string        `json:"id"`
	Title   string        `json:"title"`
	Safety  string        `json:"safety" jsonschema:"enum=no entry,enum=control panel,enum=gauge fitted,enum=lock-out,enum=opened up"`
	Steps   string        `json:"steps"`
	Expects []ShowingLine `json:"expects"`
}

type ShowingLine struct {
	Reading string   `json:"reading"`
	Text    string   `json:"text"`
	Causes  []string `json:"causes"`
}

type FactLine struct {
	Name  string  `json:"name"`
	Title string  `json:"title"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Basis string  `json:"basis"`
}

// Form is the machine form.
func (t *Trouble) Form() Diagnosis {
	out := Diagnosis{
		Schema: DiagnosisSchema, Program: program.This(), Station: t.Name, Order: diagnosis.NoShares,
		Signs: noNull(t.Case.Signs), Found: []FoundLine{}, Causes: []CauseLine{}, Next: []TestLine{},
		Facts:   []FactLine{},
		Sources: noNull(t.References()),
	}
	if t.Valve != nil {
		out.Valve = t.Valve.Item.ID
	}
	for i := range t.Book.Tests {
		if r, ok := t.Case.Found[t.Book.Tests[i].ID]; ok {
			out.Found = append(out.Found, FoundLine{t.Book.Tests[i].ID, r})
		}
	}
	for i := range t.Answer.Causes {
		w := &t.Answer.Causes[i]
		out.Causes = append(out.Causes, CauseLine{
			w.Cause.ID, w.Cause.Title, string(w.Standing), noNull(w.For), noNull(w.Against), noNull(w.Shows),
			noNull(w.Lacking),
			basis.Cite(w.Cause.Source), w.Cause.Status,
		})
	}
	for _, n := range t.Answer.Next {
		line := TestLine{n.Test.ID, n.Test.Title, n.Test.Safety, n.Test.Steps, []ShowingLine{}}
		for _, s := range n.Expects {
			line.Expects = append(line.Expects, ShowingLine{s.Reading.ID, s.Reading.Text, noNull(s.Causes)})
		}
		out.Next = append(out.Next, line)
	}
	if t.Facts != nil {
		for _, f := range t.Facts.Numbers {
			v := f.Value
			out.Facts = append(out.Facts, FactLine{f.Name, v.Name, v.SI, v.Kind.Symbol(), v.Origin.String()})
		}
	}
	return out
}

// noNull is a list that is never null.
func noNull(in []string) []string { return append([]string{}, in...) }
