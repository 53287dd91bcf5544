package rules

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

//go:embed base.yaml
var baseFile []byte

//go:embed cautions.yaml
var cautionsFile []byte

//go:embed materials.yaml
var materialsFile []byte

//go:embed packs.yaml
var packsFile []byte

var base = sync.OnceValues(func() (*Book, diag.List) {
	book := &Book{}
	for _, part := range []struct {
		name string
		data []byte
	}{{"rules/base.yaml", baseFile}, {"rules/cautions.yaml", cautionsFile}, {
		"rules/materials.yaml",
		materialsFile,
	}, {"rules/packs.yaml", packsFile}} {
		f, list := Parse(part.name, part.data)
		if list.Err() != nil {
			return nil, list
		}
		if book, list = book.With(f); list.Err() != nil {
			return nil, list
		}
	}
	return book, nil
})

// Base is the book that comes with Seatward. The list is empty, as a test holds.
func Base() (*Book, diag.List) { return base() }

// With makes a book in which the file's rules replace those of the same name. Limits
// and elastomers that the book does not have are new only in an empty book; elsewhere
// they are a slip of the pen and told, since nothing would ask for them.
//
// The list holds every fault of the file; the book is nil if it holds an error.
func (b *Book) With(f *File) (*Book, diag.List) {
	m := merger{old: b, out: b.clone(), at: map[string]yamlfile.At{}}
	for i := range f.Limits {
		m.limit(&f.Limits[i])
	}
	m.order()
	for i := range f.Elastomers {
		m.elastomer(&f.Elastomers[i])
	}
	for i := range f.Cautions {
		m.caution(&f.Cautions[i])
	}
	for i := range f.Materials {
		m.advise(&f.Materials[i])
	}
	for i := range f.Packs {
		m.pack(&f.Packs[i])
	}
	m.list.Sort()
	if m.list.Err() != nil {
		return nil, m.list
	}
	return m.out, m.list
}

// merger lays one file over a book.
type merger struct {
	old, out *Book
	list     diag.List
	at       map[string]yamlfile.At // where the file names a rule
}

// fault tells what is wrong with a word of the file.
func (m *merger) fault(at yamlfile.At, id, text, expected, mend string) {
	m.list.Add(diag.Message{ID: id, Place: at.Place, Path: at.Path, Text: text, Expected: expected, Mend: mend})
}

// unknown tells a name that no rule of the book has, with the one that may be meant.
func (m *merger) unknown(w yamlfile.Word, kind string, names []string) {
	mend := "see: seatward rules"
	if near := diag.DidYouMean(w.Text, names); near != "" {
		mend = fmt.Sprintf("did you mean %q?", near)
	}
	m.fault(w.At, kind+"-unknown", fmt.Sprintf("no %s is called %q", kind, w.Text),
		"one of: "+strings.Join(names, ", "), mend)
}

// once is false, and told, when the file names a rule a second time.
func (m *merger) once(w yamlfile.Word, kind string) bool {
	key := kind + " " + w.Text
	if first, twice := m.at[key]; twice {
		m.fault(w.At, kind+"-twice", fmt.Sprintf("the %s %q stands twice", kind, w.Text), "",
			fmt.Sprintf("keep one; the other is at line %d", first.Place.Line))
		return false
	}
	m.at[key] = w.At
	return true
}

// or is the word as written, or what it is without.
func or(w yamlfile.Word, without string) string {
	if w.Set {
		return w.Text
	}
	return without
}

const ownersRule = "owner's rule"

// limit takes one limit over.
func (m *merger) limit(l *LimitFile) {
	old, known := m.old.limits[l.ID.Text]
	if !known && len(m.old.limits) > 0 {
		m.unknown(l.ID, "limit", m.old.IDs())
		return
	}
	if !m.once(l.ID, "limit") || (!known && !m.whole(l)) {
		return
	}
	value, ok := m.number(l, old.Value, known)
	if !ok {
		return
	}
	made := Limit{
		ID: l.ID.Text, Title: or(l.Title, old.Title), Edition: l.Edition.Text, Status: or(l.Status, ownersRule),
		Note:     l.Note.Text,
		Severity: Severity(or(l.Severity, string(old.Severity))), notAbove: or(l.NotAbove, old.notAbove),
	}
	reason := made.Status
	if made.Note != "" {
		reason += "; " + made.Note
	}
	made.Value = basis.NewAssumed("limit: "+made.Title, value.Kind, value.SI, value.SI, value.SI, reason, l.Source.Text)
	m.out.limits[made.ID] = made
}

// whole holds a new limit to all that a limit says.
func (m *merger) whole(l *LimitFile) bool {
	for _, must := range []struct {
		key  string
		word yamlfile.Word
	}{{"title", l.Title}, {"kind", l.Kind}, {"severity", l.Severity}, {"status", l.Status}} {
		if !must.word.Set {
			m.fault(l.At, "key-missing", fmt.Sprintf("the key %q is missing", must.key), "all that a limit says",
				fmt.Sprintf("add a line %s: ...", must.key))
			return false
		}
	}
	return true
}

// number reads the limit's value in its kind.
func (m *merger) number(l *LimitFile, old basis.Value, known bool) (quantity.Quantity, bool) {
	kind := old.Kind
	if l.Kind.Set {
		named, ok := quantity.KindNamed(l.Kind.Text)
		switch {
		case !ok:
			m.fault(l.Kind.At, "kind-unknown", fmt.Sprintf("no kind of quantity is called %q", l.Kind.Text),
				"such as velocity, head, mass, number", "mend the word")
			return quantity.Quantity{}, false
		case known && named != old.Kind:
			m.fault(l.Kind.At, "kind-differs",
				fmt.Sprintf("the limit %q is a %s, not a %s", l.ID.Text, old.Kind,
					named), old.Kind.String(), "mend the kind, or leave it out")
			return quantity.Quantity{}, false
		}
		kind = named
	}
	q, err := quantity.Parse(kind, l.Value.Text)
	switch {
	case err != nil:
		m.fault(l.Value.At, "value-unreadable", err.Error(), "a "+kind.String(), "mend the value")
	case q.SI < 0:
		m.fault(l.Value.At, "value-out-of-range", fmt.Sprintf("the limit is %s, below nothing", l.Value.Text),
			"0 or more", "mend the number")
	default:
		return q, true
	}
	return q, false
}

// order holds pairs of limits to their order.
func (m *merger) order() {
	for _, id := range m.out.IDs() {
		low := m.out.limits[id]
		if low.notAbove == "" {
			continue
		}
		high, ok := m.out.limits[low.notAbove]
		at, own := m.at["limit "+id]
		if !own {
			at = m.at["limit "+low.notAbove]
		}
		switch {
		case !ok:
			m.fault(at, "limit-unknown", fmt.Sprintf("the limit %q is not to exceed %q, which there is not", id,
				low.notAbove), "the ID of a limit", "mend not_above")
		case high.Value.Kind != low.Value.Kind || low.Value.SI > high.Value.SI:
			m.fault(at, "limits-reversed", fmt.Sprintf("%s (%s) would stand above %s (%s)", id,
				quantity.SI.Format(low.Value.Kind, low.Value.SI), high.ID,
				quantity.SI.Format(high.Value.Kind, high.Value.SI)),
				id+" at most "+high.ID, "mend one of the two, or give both")
		}
	}
}

// elastomer takes one elastomer over.
func (m *merger) elastomer(e *ElastomerFile) {
	if _, known := m.old.elastomers[e.Name.Text]; !known && len(m.old.elastomers) > 0 {
		m.unknown(e.Name, "elastomer", m.old.Elastomers())
		return
	}
	if m.once(e.Name, "elastomer") {
		m.out.elastomers[e.Name.Text] = Elastomer{
			Name: e.Name.Text, Oil: e.Oil.Text, Grit: e.Grit.Text, Source: e.Source.Text,
			Status: or(e.Status, ownersRule), Note: e.Note.Text,
			Chloramine: e.Chloramine.Text == "suffers", MostK: e.Most.SI(),
		}
	}
}

// caution takes one caution over: in the place of the one of its name, or at the end.
func (m *merger) caution(c *CautionFile) {
	if !m.once(c.ID, "caution") {
		return
	}
	made := Caution{ID: c.ID.Text, Text: c.Text.Text, Defers: c.Defers.Text}
	for _, w := range c.When {
		made.When = append(made.When, w.Text)
	}
	if i := slices.IndexFunc(m.out.cautions, func(old Caution) bool { return old.ID == made.ID }); i >= 0 {
		m.out.cautions[i] = made
		return
	}
	m.out.cautions = append(m.out.cautions, made)
}
