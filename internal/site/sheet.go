package site

import (
	"bytes"
	_ "embed"
	"html/template"
	"strings"

	"seatward/diagnosis"
)

//go:embed sheet.html
var sheetText string

var sheetTemplate = template.Must(template.New("sheet").Parse(sheetText))

// Most of what a page holds.
const (
	sheetTests  = 5
	sheetCauses = 6
)

// sheetNumbers are the facts that the crew has use for, in its words.
var sheetNumbers = []struct{ name, label string }{
	{"pump_flow", "flow of one pump"},
	{"shut_off", "shut-off head"},
	{"velocity", "velocity in the valve"},
	{"full_open", "full-open velocity"},
	{"valve_loss", "head loss of the valve"},
	{"slam", "reverse velocity at closing, worst stop"},
	{"head_rise", "its head rise"},
	{"back_head", "back head, no pump running"},
	{"back_head_needed", "minimum back head to seal"},
	{"drains", "volume that can drain back"},
	{"run_back", "reverse speed if the valve sticks open"},
}

// sheetReading is a reading to tick.
type sheetReading struct{ Text, Causes string }

// sheetTest is a test on the sheet.
type sheetTest struct {
	Number               int
	Title, Safety, Steps string
	Readings             []sheetReading
}

// Sheet is a page for the crew: the next tests in their order, with what each cause would
// show. It holds all it needs and runs no script, so it opens on a phone without a network.
func Sheet(name string, a *diagnosis.Answer, f *Facts) ([]byte, error) {
	page := struct {
		Name            string
		Causes, Numbers []string
		Tests           []sheetTest
	}{Name: name}
	for i := range a.Causes {
		if c := &a.Causes[i]; i < sheetCauses && c.Standing != diagnosis.RuledOut {
			page.Causes = append(page.Causes, c.Cause.Title+" ("+string(c.Standing)+")")
		}
	}
	if f != nil {
		for _, l := range sheetNumbers {
			if word, ok := f.Words[l.name]; ok {
				page.Numbers = append(page.Numbers, l.label+" "+word)
			}
		}
	}
	for i, n := range a.Next {
		if i == sheetTests {
			break
		}
		t := sheetTest{Number: i + 1, Title: n.Test.Title, Safety: capital(n.Test.Safety), Steps: n.Test.Steps}
		for _, s := range n.Expects {
			t.Readings = append(t.Readings, sheetReading{capital(s.Reading.Text), strings.Join(s.Causes, "; ")})
		}
		page.Tests = append(page.Tests, t)
	}
	var out bytes.Buffer
	err := sheetTemplate.Execute(&out, page)
	return out.Bytes(), err
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
