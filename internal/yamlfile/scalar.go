package yamlfile

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v4"

	"seatward/diag"
	"seatward/internal/trade"
	"seatward/quantity"
)

// scalar reads one value by its type.
func (d *decoder) scalar(n *yaml.Node, path string, target any, tag reflect.StructTag) {
	if n.Kind != yaml.ScalarNode {
		d.add(n, path, diag.Message{
			ID: "yaml-shape", Text: "expected one value here", Found: describe(n),
			Expected: tag.Get("doc"), Mend: "write one value after the key",
		})
		return
	}
	switch t := target.(type) {
	case *Word:
		d.word(n, path, t, tag)
	case *Size:
		s, err := d.reading.ParseSize(n.Value)
		if d.quantityFault(n, path, err) {
			*t = Size{s, d.at(n, path)}
		}
	case *Num:
		r, err := d.reading.ParseRange(quantity.Number, n.Value)
		if d.quantityFault(n, path, err) && d.within(n, path, r, tag) && d.whole(n, path, r, tag) {
			*t = Num{r.Best.SI, r.Low.SI, r.High.SI, d.at(n, path)}
		}
	case *Q:
		kind, ok := quantity.KindNamed(tag.Get("kind"))
		if !ok {
			panic("yamlfile: no kind on " + path)
		}
		reading := d.reading
		reading.Unit = tag.Get("unit")
		r, err := reading.ParseRange(kind, n.Value)
		if d.quantityFault(n, path, err) && d.within(n, path, r, tag) {
			*t = Q{r, d.at(n, path)}
		}
	}
}

// word reads a text. Lines that were folded become one; characters that would act on
// the reader's screen are refused.
func (d *decoder) word(n *yaml.Node, path string, t *Word, tag reflect.StructTag) {
	text := strings.TrimSpace(n.Value)
	if strings.ContainsAny(text, "\n\t\r") {
		text = strings.Join(strings.Fields(text), " ")
	}
	if i := strings.IndexFunc(text, unprintable); i >= 0 {
		d.add(n, path, diag.Message{
			ID: "text-control", Text: "the text holds a character that is not printed",
			Found: strconv.Quote(short(text[i:])), Expected: "letters, digits and signs", Mend: "remove the character",
		})
		return
	}
	if text == "" && tag.Get("need") == "true" {
		d.add(n, path, diag.Message{
			ID: "value-missing", Text: "nothing stands after the key", Expected: tag.Get("doc"),
			Mend: "write the value",
		})
		return
	}
	if allowed := tag.Get("one"); allowed != "" {
		words := strings.Split(allowed, "|")
		found := false
		for _, w := range words {
			if strings.EqualFold(w, text) || text != "" && strings.EqualFold(truths[w], text) {
				text, found = w, true
			}
		}
		means := trade.Find(tag.Get("said"), text)
		if !found && len(means) == 1 {
			text, found = means[0], true
		}
		if !found {
			m := diag.Message{
				ID: "word-unknown", Text: fmt.Sprintf("%q is not a choice here", short(text)),
				Expected: "one of: " + strings.Join(words, ", "), Mend: "pick one of these words",
			}
			if meant := diag.DidYouMean(text, words); meant != "" {
				m.Mend = fmt.Sprintf("did you mean %q?", meant)
			}
			if means != nil {
				m.Text = fmt.Sprintf("%q may be %s", short(text), strings.Join(means, " or "))
				m.Mend, m.Choices = "write which of them it is", strings.Join(means, "|")
			}
			d.add(n, path, m)
			return
		}
	}
	*t = Word{Text: text, At: d.at(n, path)}
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 {
		t.Inset = 1
	}
}

// truths are the other spellings of yes and no in YAML.
var truths = map[string]string{"yes": "true", "no": "false"}

// unprintable is true for characters that act on the screen: controls, and those that
// turn the direction of writing.
func unprintable(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }

// quantityFault tells why a quantity could not be read; true when it could.
func (d *decoder) quantityFault(n *yaml.Node, path string, err error) bool {
	var p *quantity.ParseError
	if errors.As(err, &p) {
		d.add(n, path, diag.Message{
			ID: "value-unreadable", Text: fmt.Sprintf("%q is not %s", p.Text, p.Kind.One()),
			Found: p.Found, Expected: p.Expected, Mend: p.Mend, Choices: strings.Join(p.Choices, "|"),
		})
		return false
	}
	return true
}

// whole holds a count to whole numbers.
func (d *decoder) whole(n *yaml.Node, path string, r quantity.Range, tag reflect.StructTag) bool {
	if tag.Get("whole") != "true" || r.Low == r.High && r.Best.SI == math.Trunc(r.Best.SI) {
		return true
	}
	d.add(n, path, diag.Message{
		ID: "value-not-whole", Text: fmt.Sprintf("%q is not a count", short(n.Value)),
		Found: short(n.Value), Expected: "a whole number", Mend: "write one whole number",
	})
	return false
}

// within holds a value and its range to the limits of the key.
func (d *decoder) within(n *yaml.Node, path string, r quantity.Range, tag reflect.StructTag) bool {
	low, strict := strings.CutPrefix(tag.Get("min"), ">")
	least := limit(low, math.Inf(-1))
	most := limit(tag.Get("max"), math.Inf(1))
	bad := r.Low.SI < least || r.High.SI > most || (strict && r.Low.SI <= least)
	if !bad {
		return true
	}
	expected := "a value from " + both(r.Best.Kind, least) + " to " + both(r.Best.Kind, most)
	switch {
	case math.IsInf(most, 1) && strict && least == 0:
		expected = "a value above zero"
	case math.IsInf(most, 1) && least == 0:
		expected = "zero or more"
	case math.IsInf(most, 1):
		expected = "at least " + both(r.Best.Kind, least)
	case math.IsInf(least, -1):
		expected = "at most " + both(r.Best.Kind, most)
	case strict:
		expected = "a value above " + both(r.Best.Kind, least) + " and up to " + both(r.Best.Kind, most)
	}
	d.add(n, path, diag.Message{
		ID: "value-out-of-range", Text: fmt.Sprintf("%q is not possible here", short(n.Value)),
		Found: short(n.Value), Expected: expected, Mend: "mend the number or its sign",
	})
	return false
}

// both prints a limit in SI and, where it differs, in US units.
func both(kind quantity.Kind, si float64) string {
	metric, us := quantity.SI.Format(kind, si), quantity.US.Format(kind, si)
	if metric == us || si == 0 && kind != quantity.Temperature {
		return metric
	}
	return metric + " (" + us + ")"
}

func limit(text string, otherwise float64) float64 {
	if text == "" {
		return otherwise
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("yamlfile: bad limit " + text)
	}
	return v
}
