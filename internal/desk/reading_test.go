package desk

import (
	"context"
	"slices"
	"strings"
	"testing"
)

// A field reads what people write: what it leaves out is what the field shows, and doubt
// comes back as a choice. None of these runs a stop.
func TestFieldsReadWhatPeopleWrite(t *testing.T) {
	d := newDesk(t)
	edit := func(path, value, units string) (*EditReply, error) {
		return d.Edit(context.Background(), EditRequest{
			Text: "station: x\nunits: US\nduty: {flow: 450 gpm, head: 62 ft}\nvalve: {size: 6 in}\n" +
				"main: {runs: [{size: 6 in, length: 900 ft}]}\n",
			Edits: []Change{{Path: path, Value: &value}}, Units: units,
		})
	}
	for _, c := range []struct{ path, value, units, line string }{
		{"duty.head", "52", "", "head: 52 ft"},
		{"duty.head", "52", "SI", "head: 52 m"},
		{"duty.head", `46' 6"`, "", `head: "46' 6\""`},
		{"valve.size", "4", "", "size: 4 in"},
		{"valve.size", "100", "SI", "size: DN100"},
		{"valve.size", `2-1/2"`, "", `size: "2-1/2\""`},
		{"main.runs[0].length", "1,046 ft", "", `length: "1,046 ft"`},
		{"main.runs[0].length", "14,5 m", "", `length: "14,5 m"`},
		{"duty.static_head", "40 ± 2", "", "static_head: 40 ft ± 2 ft"},
		{"fluid.kind", "sewage", "", "kind: sewage"},
		{"operation.running_time_per_year", "2,200", "", "running_time_per_year: 2,200 h"},
		{"pumps[0].curve", "[[0, 90], [450, 62], [700, 30]]", "", "[[0 gpm, 90 ft], [450 gpm, 62 ft], [700 gpm, 30 ft]]"},
	} {
		got, err := edit(c.path, c.value, c.units)
		if err != nil || got != nil && !strings.Contains(got.Text, c.line) {
			t.Errorf("%s %s: %v; want a line %q", c.path, c.value, err, c.line)
		}
	}
	for value, choices := range map[string][]string{
		"main.runs[0].length=1,046 m": {"1.046 m", "1046 m"}, "fluid.kind=water": {"raw water", "drinking water"},
		"fluid.free_gas=0.5": {"0.5 %", "50 %"}, "valve.position=vertical": {"flow up", "flow down"},
	} {
		path, text, _ := strings.Cut(value, "=")
		_, err := edit(path, text, "")
		if e := Told(err); e == nil || len(e.Messages) != 1 || !slices.Equal(e.Messages[0].Choices, choices) {
			t.Errorf("%s: %#v, want the choices %q", value, e, choices)
		}
	}
}
