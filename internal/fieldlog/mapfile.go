package fieldlog

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// MapForm names the form of a log map. It changes only when a file that was legal no longer is.
const MapForm = "seatward.logmap/1"

// MapFile is a log map: how a log is to be read where the log does not say it itself. What is
// left out is found by the reader.
type MapFile struct {
	Delimiter yamlfile.Word   `yaml:"delimiter" doc:"Delimiter of a CSV file, such as ; or tab"`
	Encoding  yamlfile.Word   `yaml:"encoding" one:"utf-8|latin-1" doc:"Encoding of a CSV file"`
	Sheet     yamlfile.Word   `yaml:"sheet" doc:"Sheet of the workbook; the one with the most rows where left out"`
	Decimal   yamlfile.Word   `yaml:"decimal" one:"point|comma" doc:"What stands before the decimals"`
	Heading   yamlfile.Num    `yaml:"heading_row" min:"0" whole:"true" doc:"Row of the headings; 0 for none"`
	Units     yamlfile.Num    `yaml:"unit_row" min:"0" whole:"true" doc:"Row of the units; 0 for none"`
	First     yamlfile.Num    `yaml:"first_row" min:"1" whole:"true" doc:"First row with a time and values"`
	Time      TimeFile        `yaml:"time" doc:"The times of the rows"`
	Layout    yamlfile.Word   `yaml:"layout" one:"wide|narrow" doc:"A column for each signal, or one row for each value with its tag"`
	Tag       yamlfile.Word   `yaml:"tag" doc:"Column of the tag in a narrow table"`
	Value     yamlfile.Word   `yaml:"value" doc:"Column of the value in a narrow table"`
	Quality   yamlfile.Word   `yaml:"quality" doc:"Column of the quality code; none where there is none"`
	Good      []yamlfile.Word `yaml:"good" doc:"Quality codes whose values are kept"`
	Channels  []ChannelFile   `yaml:"channels" doc:"What the signals are"`
}

// TimeFile says how the times are written.
type TimeFile struct {
	Columns []yamlfile.Word `yaml:"columns" doc:"Columns of date and time"`
	Form    yamlfile.Word   `yaml:"form" one:"year-month-day|day-month-year|month-day-year|epoch seconds|epoch milliseconds|epoch microseconds|ticks since 1601|day number|day number from 1904|year, day of the year, hhmm|time of day|minutes and seconds|seconds|milliseconds|minutes|hours|no time" doc:"How a time is written"`
	Clock   yamlfile.Word   `yaml:"clock" one:"local|fixed" doc:"local: the clock is changed in spring and autumn; fixed: it never is"`
	Zone    yamlfile.Word   `yaml:"zone" doc:"Time zone of the clock by its IANA name, such as America/New_York, or UTC-05:00 for a clock that is never changed"`
	Twice   yamlfile.Word   `yaml:"twice" one:"first|second" doc:"Which of the two is meant where the clock is set back and the log holds the hour once"`
	Step    yamlfile.Q      `yaml:"step" kind:"time" min:">0" doc:"Time between two rows, where the times are cut or missing"`
}

// ChannelFile says what one signal is.
type ChannelFile struct {
	Column   yamlfile.Word `yaml:"column" need:"true" doc:"Heading of the column, or the tag"`
	Unit     yamlfile.Word `yaml:"unit" doc:"Unit of the values"`
	Measures yamlfile.Word `yaml:"measures" one:"pressure|absolute pressure|head|level|flow|inflow|outflow|volume|power|current|speed|efficiency|state|other" doc:"What is measured"`
	Sample   yamlfile.Word `yaml:"sample" one:"instant|mean|max|min|change" doc:"What one value stands for"`
	Pump     yamlfile.Num  `yaml:"pump" min:"1" whole:"true" doc:"Number of the pump that it belongs to"`
	Read     yamlfile.Word `yaml:"read" one:"yes|no" doc:"no for a signal that is not wanted"`
}

// ReadMap reads a log map. The list holds every fault.
func ReadMap(filename string, data []byte) (*MapFile, diag.List) {
	m := &MapFile{}
	list := yamlfile.Decode(filename, data, m)
	if m.Delimiter.Set && m.delimiter() == 0 {
		list.Add(diag.Message{
			ID: "delimiter-unusable", Place: m.Delimiter.Place, Path: "delimiter",
			Text: "the delimiter is not one character", Found: strconv.Quote(m.Delimiter.Text),
			Expected: "one character, or the word tab", Mend: "mend it, or leave it out",
		})
	}
	readZone(m.Time.Zone, m.Time.Clock, &list)
	return m, list
}

func (m *MapFile) delimiter() rune {
	if m.Delimiter.Text == "tab" || m.Delimiter.Text == `\t` {
		return '\t'
	}
	r, n := utf8.DecodeRuneInString(m.Delimiter.Text)
	if n == 0 || n != len(m.Delimiter.Text) {
		return 0
	}
	return r
}

// Map is how a log was read, whether a map file said it or the reader found it.
type Map struct {
	Delimiter, Encoding, Sheet string
	Comma                      bool
	Heading, Units, First      int // rows from 1; 0 for none
	Time                       []string
	Form                       Form
	Fixed                      bool   // the clock is never changed
	Zone                       string // of the clock; "" where it is not known
	Twice                      string // of two hours that the clock shows alike
	StepS                      float64
	Narrow                     bool
	Tag, Value, Quality        string
	Good                       []string
	Channels                   []MapChannel
}

// MapChannel is a channel in a Map.
type MapChannel struct {
	Column, Unit string
	Measures     Measure
	Sample       Sample
	Pump         int
	Leave        bool // it is not read
}

// YAML is the map as a file, with the open questions as comments above it.
func (m *Map) YAML(questions []Question) []byte {
	var b strings.Builder
	b.WriteString("# How a log is read. Correct what is wrong; the next reading takes it.\n")
	for _, q := range questions {
		fmt.Fprintf(&b, "# Open: %s Taken: %s. Key: %s.\n", oneLine(q.Text), oneLine(q.Taken), q.Key)
	}
	put := func(indent, key, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s%s: %s\n", indent, key, value)
		}
	}
	if m.Delimiter == "\t" {
		put("", "delimiter", "tab")
	} else if m.Delimiter != "" {
		put("", "delimiter", quoted(m.Delimiter))
	}
	put("", "encoding", m.Encoding)
	put("", "sheet", quoted(m.Sheet))
	put("", "decimal", map[bool]string{true: "comma", false: "point"}[m.Comma])
	put("", "heading_row", strconv.Itoa(m.Heading))
	put("", "unit_row", strconv.Itoa(m.Units))
	put("", "first_row", strconv.Itoa(max(1, m.First)))
	b.WriteString("time:\n")
	put("  ", "columns", list(m.Time))
	put("  ", "form", quoted(string(m.Form)))
	if m.Zone == "" {
		put("  ", "clock", map[bool]string{true: "fixed", false: "local"}[m.Fixed])
	}
	put("  ", "zone", m.Zone)
	put("  ", "twice", m.Twice)
	if m.StepS > 0 {
		put("  ", "step", strconv.FormatFloat(m.StepS, 'g', -1, 64)+" s")
	}
	put("", "layout", map[bool]string{true: "narrow", false: "wide"}[m.Narrow])
	put("", "tag", quoted(m.Tag))
	put("", "value", quoted(m.Value))
	put("", "quality", quoted(m.Quality))
	put("", "good", list(m.Good))
	if len(m.Channels) > 0 {
		b.WriteString("channels:\n")
	}
	for _, c := range m.Channels {
		put("  - ", "column", quoted(c.Column))
		put("    ", "unit", quoted(c.Unit))
		put("    ", "measures", string(c.Measures))
		put("    ", "sample", string(c.Sample))
		if c.Pump > 0 {
			put("    ", "pump", strconv.Itoa(c.Pump))
		}
		if c.Leave {
			put("    ", "read", "no")
		}
	}
	return []byte(b.String())
}

func list(words []string) string {
	if len(words) == 0 {
		return ""
	}
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = quoted(w)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// quoted writes a text as YAML has it in double quotes; an empty one stays empty.
func quoted(s string) string {
	if s == "" {
		return ""
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\ufffd") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0xfeff || r == 0xfffe || r == 0xffff ||
			r == 0x2028 || r == 0x2029:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x85 || r == 0x2028 || r == 0x2029 {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(strings.Join(strings.Fields(s), " "), ""))
}
