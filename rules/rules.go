// Package rules holds the limits by which valves are judged, and the cautions that
// go with an answer, as data: each with its source, edition and how sure it is. A
// user's file can replace any limit; what it does not name stays.
package rules

import (
	_ "embed"
	"fmt"
	"sort"
	"sync"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// File is a rules file as written.
type File struct {
	Limits     []LimitFile     `yaml:"limits" doc:"Limits by which is judged"`
	Elastomers []ElastomerFile `yaml:"elastomers" doc:"What elastomers bear"`
	Cautions   []CautionFile   `yaml:"cautions" doc:"Cautions that go with an answer"`
}

// LimitFile is one limit.
type LimitFile struct {
	ID      yamlfile.Word `yaml:"id" need:"true" doc:"Stable name"`
	Title   yamlfile.Word `yaml:"title" need:"true" doc:"What is limited"`
	Kind    yamlfile.Word `yaml:"kind" need:"true" doc:"What the number measures: velocity, head, mass, ..."`
	Value   yamlfile.Word `yaml:"value" need:"true" doc:"The limit with its unit"`
	Source  yamlfile.Word `yaml:"source" need:"true" doc:"Where it comes from: a key of the bibliography or a full citation"`
	Edition yamlfile.Word `yaml:"edition" doc:"Edition or date read"`
	Status  yamlfile.Word `yaml:"status" need:"true" one:"seen|from memory|common practice, no source|choice of this program" doc:"How sure the number is"`
	Note    yamlfile.Word `yaml:"note" doc:"A remark"`
}

// ElastomerFile says what one elastomer bears.
type ElastomerFile struct {
	Name   yamlfile.Word `yaml:"name" need:"true" doc:"Name as catalogs have it"`
	Most   yamlfile.Q    `yaml:"greatest_temperature" kind:"temperature" need:"true" doc:"Greatest temperature in water"`
	Oil    yamlfile.Word `yaml:"oil" one:"none|trace|heavy" need:"true" doc:"Greatest oil load"`
	Grit   yamlfile.Word `yaml:"grit" one:"none|some|heavy" need:"true" doc:"Greatest grit load"`
	Source yamlfile.Word `yaml:"source" need:"true" doc:"Where this comes from"`
	Status yamlfile.Word `yaml:"status" need:"true" one:"seen|from memory|common practice, no source" doc:"How sure it is"`
}

// CautionFile is one caution.
type CautionFile struct {
	ID   yamlfile.Word   `yaml:"id" need:"true" doc:"Stable name"`
	When []yamlfile.Word `yaml:"when" one:"always|sewage|drinking water|vault|heavy|surge" need:"true" doc:"When it goes with an answer"`
	Text yamlfile.Word   `yaml:"text" need:"true" doc:"The caution, which defers to the maker's instructions, local codes or a licensed engineer"`
}

// Limit is one limit with its record.
type Limit struct {
	ID, Title, Edition, Status, Note string
	Value                            basis.Value // assumed, with status and source, so that it explains itself
}

// Elastomer says what one elastomer bears.
type Elastomer struct {
	Name, Oil, Grit, Source, Status string
	MostK                           float64
}

// Caution is one caution and when it applies.
type Caution struct {
	ID, Text string
	When     []string
}

// Book is a set of rules.
type Book struct {
	limits     map[string]Limit
	elastomers map[string]Elastomer
	cautions   []Caution
}

//go:embed base.yaml
var baseFile []byte

var base = sync.OnceValues(func() (*Book, diag.List) {
	f, list := Parse("rules/base.yaml", baseFile)
	if list.Err() != nil {
		return nil, list
	}
	return (&Book{limits: map[string]Limit{}, elastomers: map[string]Elastomer{}}).With(f)
})

// Base is the book that comes with Seatward. The list is empty, as a test holds.
func Base() (*Book, diag.List) { return base() }

// Parse reads a rules file. The list holds every fault of the reading.
func Parse(filename string, data []byte) (*File, diag.List) {
	f := &File{}
	return f, yamlfile.Decode(filename, data, f)
}

// With makes a book in which the file's rules replace those of the same name. Limits
// that the book does not have are new only in the base file; elsewhere they are a
// slip of the pen and told.
func (b *Book) With(f *File) (*Book, diag.List) {
	out := &Book{limits: map[string]Limit{}, elastomers: map[string]Elastomer{}, cautions: append([]Caution(nil), b.cautions...)}
	for k, v := range b.limits {
		out.limits[k] = v
	}
	for k, v := range b.elastomers {
		out.elastomers[k] = v
	}
	var list diag.List
	for i := range f.Limits {
		b.limit(out, &f.Limits[i], &list)
	}
	for _, e := range f.Elastomers {
		out.elastomers[e.Name.Text] = Elastomer{e.Name.Text, e.Oil.Text, e.Grit.Text, e.Source.Text, e.Status.Text, e.Most.SI()}
	}
	for _, c := range f.Cautions {
		out.caution(c)
	}
	list.Sort()
	if list.Err() != nil {
		return nil, list
	}
	return out, list
}

func (b *Book) limit(out *Book, l *LimitFile, list *diag.List) {
	if _, known := b.limits[l.ID.Text]; !known && len(b.limits) > 0 {
		m := diag.Message{ID: "limit-unknown", Place: l.ID.Place, Path: l.ID.Path, Text: fmt.Sprintf("no limit is called %q", l.ID.Text), Expected: "the ID of a limit", Mend: "see: seatward rules"}
		if near := diag.DidYouMean(l.ID.Text, b.IDs()); near != "" {
			m.Mend = fmt.Sprintf("did you mean %q?", near)
		}
		list.Add(m)
		return
	}
	kind, ok := quantity.KindNamed(l.Kind.Text)
	if !ok {
		list.Add(diag.Message{ID: "kind-unknown", Place: l.Kind.Place, Path: l.Kind.Path, Text: fmt.Sprintf("no kind of quantity is called %q", l.Kind.Text), Expected: "such as velocity, head, mass, number", Mend: "mend the word"})
		return
	}
	if old, known := b.limits[l.ID.Text]; known && old.Value.Kind != kind {
		list.Add(diag.Message{ID: "kind-differs", Place: l.Kind.Place, Path: l.Kind.Path, Text: fmt.Sprintf("the limit %q is a %s", l.ID.Text, old.Value.Kind), Found: l.Kind.Text, Expected: old.Value.Kind.String(), Mend: "mend the kind"})
		return
	}
	q, err := quantity.Parse(kind, l.Value.Text)
	if err != nil {
		list.Add(diag.Message{ID: "value-unreadable", Place: l.Value.Place, Path: l.Value.Path, Text: err.Error(), Expected: "a " + kind.String(), Mend: "mend the value"})
		return
	}
	reason := l.Status.Text
	if l.Note.Set {
		reason += "; " + l.Note.Text
	}
	value := basis.NewAssumed("limit: "+l.Title.Text, kind, q.SI, q.SI, q.SI, reason, l.Source.Text)
	out.limits[l.ID.Text] = Limit{l.ID.Text, l.Title.Text, l.Edition.Text, l.Status.Text, l.Note.Text, value}
}

func (b *Book) caution(c CautionFile) {
	var when []string
	for _, w := range c.When {
		when = append(when, w.Text)
	}
	made := Caution{c.ID.Text, c.Text.Text, when}
	for i := range b.cautions {
		if b.cautions[i].ID == made.ID {
			b.cautions[i] = made
			return
		}
	}
	b.cautions = append(b.cautions, made)
}

// Limit finds a limit. Asking for one that is not in the base file is a fault of the
// program, held by a test of judge.
func (b *Book) Limit(id string) Limit {
	l, ok := b.limits[id]
	if !ok {
		panic("rules: no limit " + id)
	}
	return l
}

// IDs lists the limits by name.
func (b *Book) IDs() []string {
	out := make([]string, 0, len(b.limits))
	for id := range b.limits {
		out = append(out, id)
	}
	sort.Strings(out)
	return out
}

// Elastomer finds what an elastomer bears; false where the book does not know it.
func (b *Book) Elastomer(name string) (Elastomer, bool) {
	e, ok := b.elastomers[name]
	return e, ok
}

// Cautions lists the cautions in their order.
func (b *Book) Cautions() []Caution { return b.cautions }
