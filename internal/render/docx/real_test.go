package docx

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/internal/clause"
	"seatward/internal/document"
	"seatward/internal/render/sample"
	"seatward/quantity"
)

// Every paper of a real study is sound and says, in its order, all that its blocks say.
func TestPapers(t *testing.T) {
	d := sample.Dossier(t, "study", quantity.US)
	for _, k := range document.Kinds() {
		paper := d.Make(k)
		holds(t, sound(t, made(t, paper)), paper)
	}
}

// TestClausesReadBack: the specification of a real study is read as a specification, with the
// numbers of its author; a paragraph that is given a clause's style is numbered by it.
func TestClausesReadBack(t *testing.T) {
	d := sample.Paper(t, "specification")
	data := made(t, d)
	s, list := clause.Read("section.docx", data)
	if list != nil {
		t.Fatal(list)
	}
	var want, got []string
	for _, b := range d.Blocks {
		if c, is := b.(document.Clause); is {
			want = append(want, strings.TrimSuffix(c.Number, ".")+" "+strings.Join(strings.Fields(c.Text), " "))
		}
	}
	for _, p := range s.Paragraphs {
		if strings.HasPrefix(p.Number, "¶") || p.Text == "" {
			continue
		}
		number := p.Number
		if !strings.HasPrefix(number, "PART") {
			number = number[strings.LastIndexByte(number, ' ')+1:]
		}
		got = append(got, number+" "+p.Text)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-author +read back\n%s", diff)
	}
	parts := sound(t, data)
	for i, style := range clauseStyles {
		if !strings.Contains(parts["word/numbering.xml"], `<w:pStyle w:val="`+style+`"/>`) {
			t.Errorf("no level of the numbering is tied to %s", style)
		}
		_, of, _ := strings.Cut(parts["word/styles.xml"], `w:styleId="`+style+`"`)
		if of, _, _ = strings.Cut(of, `</w:style>`); !strings.Contains(of, fmt.Sprintf(`<w:ilvl w:val="%d"/>`, i)) {
			t.Errorf("the style %s has no level", style)
		}
	}
}

// BenchmarkWrite: a submittal from a study that is there.
func BenchmarkWrite(b *testing.B) {
	d := sample.Paper(b, "submittal")
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}
