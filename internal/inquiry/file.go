package inquiry

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"seatward/diag"
	"seatward/station"
)

// sections are the parts of a station file in their order, with the keys that letters fill.
var sections = []struct {
	path string
	keys []string
}{
	{"fluid", []string{"kind", "temperature", "greatest_temperature", "solids", "rags", "grit", "oil"}},
	{"site", []string{"elevation"}},
	{"duty", []string{"flow", "head", "static_head", "least_flow", "greatest_flow", "shutoff_head"}},
	{"valve", []string{
		"size", "position", "place", "existing", "straight_before", "straight_after", "clearance", "laying_length",
		"rating",
	}},
	{"pumps[0]", []string{"count", "standby", "speed", "motor_power", "submersible"}},
	{"levels", []string{"wet_well_high", "wet_well_low", "outlet", "suction_pressure", "outlet_pressure"}},
	{"branch.runs[0]", []string{"material", "class", "size", "length"}},
	{"main.runs[0]", []string{"material", "class", "size", "inner_diameter", "length"}},
	{"surge", []string{"normal_stop"}},
	{"operation", []string{"running_time_per_year"}},
}

// mostTries is how many finds are put in doubt one by one.
const mostTries = 30

// confirm puts finds in doubt that make no station together with the others: their fields
// are refused by the reader of station files.
func (l *Letter) confirm() {
	for range min(len(l.Finds), mostTries) + 1 {
		st, list := station.Load("inquiry", []byte(l.File("")))
		if st != nil {
			return
		}
		if !l.demote(list) {
			return
		}
	}
}

// demote puts the first find in doubt that a message is about.
func (l *Letter) demote(list diag.List) bool {
	for exact := range 2 {
		for _, m := range list {
			for i := range l.Finds {
				f := &l.Finds[i]
				if f.Doubt != "" || m.Severity != diag.Error {
					continue
				}
				if f.Path == m.Path || exact == 1 && (m.Path == "" || strings.HasPrefix(f.Path, sectionOf(m.Path))) {
					f.Doubt, f.Choices = "a station does not take it so: "+m.Text, []Choice{{f.Path, f.Value, said(f.Path)}}
					return true
				}
			}
		}
	}
	return false
}

func sectionOf(path string) string {
	return path[:cmp.Or(max(strings.IndexAny(path, ".["), 0), len(path))]
}

// File is the commented station file: what is sure with its phrase, what is in doubt as
// comments with the choices, and what the text does not say. It can be read by station.Load.
func (l *Letter) File(source string) string {
	var out strings.Builder
	if source != "" {
		fmt.Fprintf(&out, "# Read from %s. Check each value against its phrase: nobody has confirmed it.\n", plainLine(source))
		out.WriteString("# What is in doubt stands as a comment with its choices; take one by removing the #.\n")
	}
	for _, m := range l.Missing {
		if source != "" {
			fmt.Fprintf(&out, "# Not found: %s\n", m)
		}
	}
	out.WriteString("station: From an inquiry\nunits: " + l.Units.String() + "\n")
	for _, s := range sections {
		l.section(&out, s.path, s.keys, source != "")
	}
	return out.String()
}

func (l *Letter) section(out *strings.Builder, path string, keys []string, comments bool) {
	var lines []string
	sure := false
	for _, key := range keys {
		for i := range l.Finds {
			f := &l.Finds[i]
			switch {
			case f.Path != path+"."+key:
			case f.Doubt == "" && comments:
				lines = append(lines, fmt.Sprintf("%-34s# %s", key+": "+scalar(f.Value), quoted(f.Phrase)))
				sure = true
			case f.Doubt == "":
				lines = append(lines, key+": "+scalar(f.Value))
				sure = true
			case comments:
				lines = append(lines, l.doubtful(f)...)
			}
		}
	}
	if len(lines) == 0 {
		return
	}
	out.WriteString("\n")
	name, rest, list := strings.Cut(path, "[0]")
	name, runs, nested := strings.Cut(name, ".")
	_ = rest
	head := name + ":\n"
	indent := "  "
	if nested {
		head += "  " + runs + ":\n"
		indent = "    "
	}
	if !sure {
		for _, line := range strings.Split(strings.TrimSuffix(head, "\n"), "\n") {
			out.WriteString("# " + line + "\n")
		}
	} else {
		out.WriteString(head)
	}
	first := true
	for _, line := range lines {
		comment := strings.HasPrefix(line, "#")
		lead := indent
		if list {
			lead += "  "
			if first && !comment {
				lead = indent + "- "
				first = false
			}
		}
		out.WriteString(lead + line + "\n")
	}
}

// doubtful are the lines of a find in doubt.
func (l *Letter) doubtful(f *Find) []string {
	out := []string{fmt.Sprintf("# In doubt, %s: %s", quoted(f.Phrase), plainLine(f.Doubt))}
	for _, c := range f.Choices {
		line := fmt.Sprintf("#   %s: %s", c.Path, scalar(c.Value))
		if c.Says != "" {
			line += "   (" + c.Says + ")"
		}
		out = append(out, line)
	}
	return out
}

// quoted is a phrase in one short line.
func quoted(phrase string) string { return strconv.Quote(plainLine(phrase)) }

// plainLine is a text in one line without what ends a comment.
func plainLine(text string) string {
	text = strings.Join(strings.Fields(strings.ToValidUTF8(text, "?")), " ")
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == '\u2028' || r == '\u2029' {
			return -1
		}
		return r
	}, text)
}

var plainScalar = regexp.MustCompile(`^[A-Za-z0-9][\w .,/%°³²-]*$`)

// scalar is a value as YAML holds it.
func scalar(value string) string {
	if plainScalar.MatchString(value) {
		return value
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(plainLine(value)) + `"`
}
