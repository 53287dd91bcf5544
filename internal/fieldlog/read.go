package fieldlog

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/diag"
	"seatward/internal/table"
)

// The limits of one log.
const (
	MostBytes  = 6 << 30     // of a CSV file
	MostXLSX   = 100 << 20   // of a workbook
	mostValues = 110_000_000 // kept in memory, times among them
	mostTags   = 2000
	badShare   = 0.2 // of the rows, above which a log is refused
	magicZip   = "PK\x03\x04"
)

// Read reads a log. What the map says goes before what is found; m may be nil. The list holds
// what cannot be read; with an error in it there is no log.
func Read(filename string, in io.Reader, m *MapFile) (*Log, diag.List) {
	if m == nil {
		m = &MapFile{}
	}
	r := &reading{file: filename, m: m, log: &Log{File: filename}, tags: map[string]*tagged{}}
	buffered := bufio.NewReaderSize(in, 64<<10)
	if head, _ := buffered.Peek(len(magicZip)); string(head) == magicZip {
		r.workbook(buffered)
	} else {
		o := table.Options{Delimiter: m.delimiter(), Encoding: m.Encoding.Text, Long: true}
		limited := &io.LimitedReader{R: buffered, N: MostBytes + 1}
		r.list = append(r.list, table.Stream(filename, limited, o, r.take)...)
		if limited.N <= 0 {
			r.fault(diag.Message{
				ID: "file-too-large", Text: "the log is too large", Expected: fmt.Sprintf("at most %d GB",
					MostBytes>>30),
				Mend: "cut it into several files",
			})
		}
	}
	if r.p == nil && r.list.Err() == nil {
		r.begin() // a log shorter than its head
	}
	if r.list.Err() != nil {
		return nil, r.list
	}
	r.finish()
	if r.list.Err() != nil {
		return nil, r.list
	}
	return r.log, r.list
}

// reading is one log while it is read.
type reading struct {
	file  string
	m     *MapFile
	log   *Log
	list  diag.List
	head  []headRow
	p     *plan
	axes  []*axis
	tags  map[string]*tagged
	local bool
	zone  *zone // of the clock; nil where none is known

	pending  []pendingRow
	wide     []*Channel // by column of the plan; nil where it is left
	joined   []byte
	badTimes int
	firstBad diag.Message
	left     int // values that may still be kept
	cutBase  int64
	cutLast  int64
	counted  int64
}

type pendingRow struct {
	line  int
	cells [][]byte
}

// tagged is a channel of a narrow table.
type tagged struct {
	channel *Channel
	leave   bool
}

func (r *reading) fault(m diag.Message) {
	m.Place.File = r.file
	r.list.Add(m)
}

// workbook reads the sheet with the most rows, or the one that the map names.
func (r *reading) workbook(in io.Reader) {
	data, err := io.ReadAll(io.LimitReader(in, MostXLSX+1))
	if err != nil {
		r.fault(diag.Message{ID: "file-unreadable", Text: "the file cannot be read to its end", Found: err.Error()})
		return
	}
	sheets, list := table.Read(r.file, data, table.Options{MaxBytes: MostXLSX, Long: true})
	if r.list = append(r.list, list...); list.Err() != nil {
		return
	}
	var best *table.Sheet
	var names []string
	for i := range sheets {
		names = append(names, sheets[i].Name)
		if r.m.Sheet.Set && sheets[i].Name != r.m.Sheet.Text {
			continue
		}
		if best == nil || len(sheets[i].Rows) > len(best.Rows) {
			best = &sheets[i]
		}
	}
	if best == nil {
		r.fault(diag.Message{
			ID: "sheet-missing", Text: fmt.Sprintf("the workbook has no sheet %q", r.m.Sheet.Text),
			Expected: "one of: " + strings.Join(names, ", "), Mend: "mend sheet in the map",
		})
		return
	}
	if len(sheets) > 1 && !r.m.Sheet.Set {
		r.log.Notes = append(r.log.Notes, fmt.Sprintf("the sheet %q is read; it has the most rows of %d", best.Name,
			len(sheets)))
	}
	var cells [][]byte
	for i, row := range best.Rows {
		cells = cells[:0]
		for _, c := range row {
			cells = append(cells, []byte(c.Text))
		}
		if !r.take(i+1, cells) {
			break
		}
	}
	if r.p == nil && r.list.Err() == nil {
		r.begin()
	}
	if r.p != nil {
		r.p.Sheet = best.Name
	}
}

// take takes one row: the first ones are kept until the form is found.
func (r *reading) take(line int, cells [][]byte) bool {
	if r.p != nil {
		return r.row(line, cells)
	}
	h := headRow{line: line}
	p := pendingRow{line: line}
	for _, c := range cells {
		h.cells = append(h.cells, string(c))
		p.cells = append(p.cells, bytes.Clone(c))
	}
	r.head, r.pending = append(r.head, h), append(r.pending, p)
	return len(r.head) < headRows || r.begin()
}

// begin finds the form, then reads the rows that were kept.
func (r *reading) begin() bool {
	if len(r.head) == 0 {
		r.fault(diag.Message{
			ID: "log-empty", Place: diag.Place{Line: 1, Col: 1}, Text: "the file holds no rows",
			Expected: "a table of times and values", Mend: "check the file",
		})
		return false
	}
	p, list := guess(r.file, r.head, r.m)
	if r.list = append(r.list, list...); list.Err() != nil {
		return false
	}
	r.p, r.left = p, mostValues
	r.log.Clock = p.Form.clock()
	r.local = r.log.Clock && !p.Fixed
	if p.Zone != "" {
		r.zone = zoneOf(p.Zone)
	}
	if !p.Narrow {
		a := r.axis()
		for i, col := range p.columns {
			if col < 0 {
				r.wide = append(r.wide, nil)
				continue
			}
			c := newChannel(&p.Channels[i], a)
			c.Column, c.Line = col+1, p.First
			r.wide, r.log.Channels = append(r.wide, c), append(r.log.Channels, c)
		}
	}
	for _, row := range r.pending {
		if row.line >= p.First && !r.row(row.line, row.cells) {
			return false
		}
	}
	r.pending, r.head = nil, nil
	return true
}

func (r *reading) axis() *axis {
	a := &axis{}
	r.axes = append(r.axes, a)
	return a
}

func newChannel(m *MapChannel, a *axis) *Channel {
	scale, _ := m.scaleOf()
	return &Channel{
		Name: m.Column, Unit: m.Unit, Measures: m.Measures, Sample: m.Sample, Pump: m.Pump, axis: a, scale: scale,
	}
}

// cellOf is a cell without the blanks around it; nil where the row has none.
func cellOf(cells [][]byte, col int) []byte {
	if col < 0 || col >= len(cells) {
		return nil
	}
	b := cells[col]
	for len(b) > 0 && b[0] == ' ' {
		b = b[1:]
	}
	for len(b) > 0 && b[len(b)-1] == ' ' {
		b = b[:len(b)-1]
	}
	return b
}

// row reads one row of data.
func (r *reading) row(line int, cells [][]byte) bool {
	r.log.Rows++
	s, ok := r.time(cells)
	if !ok {
		return r.badTime(line, cells)
	}
	if !r.place(&s, line, cells) {
		return false
	}
	if r.left -= 1 + len(r.wide); r.left < 0 {
		r.fault(diag.Message{
			ID: "log-too-long", Place: diag.Place{Line: line, Col: 1},
			Text:     "the log holds more values than the memory set aside",
			Expected: fmt.Sprintf("at most %d million values", mostValues/1_000_000),
			Mend:     "cut the log, or give channels that are not wanted read: no in the map",
		})
		return false
	}
	if r.p.Narrow {
		return r.narrowRow(line, s, cells)
	}
	r.mixedZones(line, s)
	r.axes[0].add(s.ns, line, r.local && !s.zoned)
	bad := r.p.quality >= 0 && !r.isGood(cellOf(cells, r.p.quality))
	for i, c := range r.wide {
		if c == nil {
			continue
		}
		isBad := bad || r.p.qualities[i] >= 0 && !r.isGood(cellOf(cells, r.p.qualities[i]))
		c.add(r.value(c, cellOf(cells, r.p.columns[i]), isBad, line))
	}
	return true
}

// mixedZones refuses rows without a time zone among rows with one.
func (r *reading) mixedZones(line int, s stamp) {
	switch {
	case r.axes[0].times.n == 0 && r.log.Rows <= 1+r.badTimes:
		r.log.Zoned = s.zoned
	case r.log.Zoned != s.zoned && r.list.Err() == nil:
		r.fault(diag.Message{
			ID: "zones-mixed", Place: diag.Place{Line: line, Col: r.p.time[0] + 1},
			Text:     "times with a time zone and times without one stand in one log",
			Expected: "one kind", Mend: "export the log again, or cut it at this line",
		})
	}
}

// time reads the time of a row.
func (r *reading) time(cells [][]byte) (stamp, bool) {
	if r.p.Form == Counted {
		s := stamp{ns: int64(math.Round(float64(r.counted) * r.p.StepS * float64(second)))}
		r.counted++
		return s, r.p.StepS > 0
	}
	at := cellOf(cells, r.p.time[0])
	switch {
	case r.p.Form == DayOfYear:
		if len(r.p.time) < 3 {
			return stamp{}, false
		}
		return yearDayTime(at, cellOf(cells, r.p.time[1]), cellOf(cells, r.p.time[2]))
	case len(r.p.time) == 2:
		r.joined = append(append(append(r.joined[:0], at...), ' '), cellOf(cells, r.p.time[1])...)
		at = r.joined
	}
	s, ok := r.p.Form.read(at, r.p.Comma)
	if !ok {
		return s, false
	}
	if r.p.StepS > 0 { // the stamps are cut: they only say that this is a row
		s.ns = int64(math.Round(float64(r.counted) * r.p.StepS * float64(second)))
		r.counted++
		return s, true
	}
	if r.p.Form == Cut || r.p.Form == TimeOfDay {
		turn := hour
		if r.p.Form == TimeOfDay {
			turn = day
		}
		if s.ns < r.cutLast-turn/2 {
			r.cutBase += turn
		}
		r.cutLast = s.ns
		s.ns += r.cutBase
	}
	return s, true
}

// badTime counts a row whose time cannot be read; an empty row is none.
func (r *reading) badTime(line int, cells [][]byte) bool {
	all := bytes.TrimSpace(bytes.Join(cells, nil))
	if len(all) == 0 {
		r.log.Rows--
		return true
	}
	r.badTimes++
	col := 0
	if len(r.p.time) > 0 {
		col = r.p.time[0]
	}
	if r.badTimes == 1 {
		cell := string(cellOf(cells, col))
		m := diag.Message{
			ID: "time-unreadable", Place: diag.Place{Line: line, Col: col + 1},
			Text:  "the time of this row cannot be read",
			Found: fmt.Sprintf("%.40q", cell), Expected: string(r.p.Form),
			Mend: "mend the row, or say time: form in the map",
		}
		if why := damaged(cell); why != "" {
			m.Text += ": " + why
		} else if strings.Contains(strings.ToUpper(cell), "E+") {
			m.Text += ": a spreadsheet rounded it"
		}
		r.firstBad = m
	}
	return true
}

// isGood reports whether a quality code lets the value stand.
func (r *reading) isGood(code []byte) bool {
	for _, g := range r.p.Good {
		if strings.EqualFold(g, string(code)) {
			return true
		}
	}
	if len(r.p.Good) > 0 {
		return false
	}
	ok, _ := good(code)
	return ok
}

// value reads a value; NaN where the cell has none.
func (r *reading) value(c *Channel, cell []byte, bad bool, line int) float64 {
	if bad {
		r.log.Bad++
		return math.NaN()
	}
	if v, ok := number(cell, r.p.Comma); ok {
		return v
	}
	if blank(cell) {
		return math.NaN()
	}
	if v, ok := states[strings.ToLower(string(cell))]; ok && (c.Measures == State || c.Measures == Other) {
		return v
	}
	if c.Skipped++; c.Skipped == 1 && len(r.log.Notes) < 20 {
		note := fmt.Sprintf("line %d: \"%.30s\" is no number of \"%.30s\"; it is left out", line, cell, c.Name)
		if why := damaged(string(cell)); why != "" {
			note += " (" + why + ")"
		}
		r.log.Notes = append(r.log.Notes, note)
	}
	return math.NaN()
}

// narrowRow reads one value with its tag.
func (r *reading) narrowRow(line int, s stamp, cells [][]byte) bool {
	tag := cellOf(cells, r.p.tag)
	t := r.tags[string(tag)]
	if t == nil {
		if len(r.tags) == mostTags {
			r.fault(diag.Message{
				ID: "tags-too-many", Place: diag.Place{Line: line, Col: r.p.tag + 1},
				Text:  "the log has too many tags",
				Found: fmt.Sprintf("%.40q", tag), Expected: fmt.Sprintf("at most %d", mostTags),
				Mend: "check the column of the tag in the map",
			})
			return false
		}
		t = r.newTag(oneLine(string(tag)), cells)
		r.tags[string(tag)] = t
		if t.channel != nil {
			t.channel.Line = line
		}
	}
	if len(r.tags) == 1 && r.log.Rows == 1+r.badTimes {
		r.log.Zoned = s.zoned
	}
	if t.leave {
		return true
	}
	bad := r.p.quality >= 0 && !r.isGood(cellOf(cells, r.p.quality))
	t.channel.axis.add(s.ns, line, r.local && !s.zoned)
	t.channel.add(r.value(t.channel, cellOf(cells, r.p.value), bad, line))
	return true
}

// newTag makes the channel of a tag that comes for the first time.
func (r *reading) newTag(name string, cells [][]byte) *tagged {
	g := &guesser{file: r.file, m: r.m, p: r.p}
	m := MapChannel{Column: name}
	if g.said(&m) {
		return &tagged{leave: true}
	}
	_, isState := states[strings.ToLower(string(cellOf(cells, r.p.value)))]
	if q := settle(&m, isState); q != nil {
		r.p.questions = append(r.p.questions, *q)
	}
	if m.Measures == State && m.Sample == Unsaid {
		m.Sample = Change // a narrow table stores a state when it changes
	}
	r.list = append(r.list, g.list...)
	r.p.Channels = append(r.p.Channels, m)
	c := newChannel(&m, r.axis())
	r.log.Channels = append(r.log.Channels, c)
	return &tagged{channel: c}
}
