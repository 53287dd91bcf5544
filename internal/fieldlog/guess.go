package fieldlog

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"seatward/diag"
)

// headRows is how many rows the form of a log is found from.
const headRows = 400

// headRow is one of the first rows.
type headRow struct {
	line  int
	cells []string
}

// plan is a Map with the columns found.
type plan struct {
	Map
	time                []int
	tag, value, quality int   // −1 without one
	zone                int   // column of the time zone; −1 without one
	columns             []int // of Map.Channels, in a wide table
	qualities           []int // quality column of each; −1 without one
	names               []string
	questions           []Question
	notes               []string
}

// guess finds the form of a log from its first rows and what the map says.
func guess(file string, head []headRow, m *MapFile) (*plan, diag.List) {
	g := &guesser{file: file, head: head, m: m, p: &plan{tag: -1, value: -1, quality: -1}}
	g.p.Delimiter, g.p.Encoding, g.p.Sheet = m.Delimiter.Text, m.Encoding.Text, m.Sheet.Text
	for _, w := range m.Good {
		g.p.Good = append(g.p.Good, w.Text)
	}
	g.p.Fixed = m.Time.Clock.Text == "fixed"
	g.p.StepS, g.p.Twice = m.Time.Step.SI(), m.Time.Twice.Text
	if !g.times() || !g.decimals() {
		return nil, g.list
	}
	g.headings()
	if g.byMap() {
		g.zones()
		g.layout()
	}
	if g.list.Err() != nil {
		return nil, g.list
	}
	return g.p, g.list
}

// guesser works on the first rows.
type guesser struct {
	file  string
	head  []headRow
	m     *MapFile
	p     *plan
	first int // index in head of the first row of data
	width int
	list  diag.List
}

func (g *guesser) fault(m diag.Message) {
	m.Place.File = g.file
	g.list.Add(m)
}

// cell is a cell of the head; empty where there is none.
func (g *guesser) cell(row, col int) string {
	if row < 0 || row >= len(g.head) || col < 0 || col >= len(g.head[row].cells) {
		return ""
	}
	return strings.TrimSpace(g.head[row].cells[col])
}

func (g *guesser) widest() int {
	w := 0
	for i := range g.head {
		w = max(w, len(g.head[i].cells))
	}
	return w
}

// candidate is a column, or two, read as times of a form.
type candidate struct {
	columns []int
	form    Form
	first   int // row of the head
	rows    int // that can be read
	rises   int // of these that are not before the one above
	timed   bool
}

var timeWords = regexp.MustCompile(`(?i)time|date|zeit|datum|stamp|heure|\bt\b|^t[_ (\[]|sec|\bms\b|elapsed|epoch|uhr`)

// times finds the column of the times, their form, and the first row of data.
func (g *guesser) times() bool {
	var best candidate
	only := Form(g.m.Time.Form.Text)
	if only == Counted {
		g.p.Form, g.first = Counted, max(0, int(g.m.First.Value)-1)
		return g.counted()
	}
	for c := range min(g.widest(), 12) {
		for _, f := range forms {
			if only != "" && f != only || f == Counted || f == DayOfYear && only == "" {
				continue
			}
			if x := g.try(f, c, only != ""); x.better(best) {
				best = x
			}
		}
	}
	if only == DayOfYear || only == "" {
		if x := g.yearDay(); x.better(best) {
			best = x
		}
	}
	if best.rows == 0 {
		if g.m.Time.Step.Set {
			g.p.Form = Counted
			return g.counted()
		}
		at, cell := diag.Place{Line: 1, Col: 1}, ""
		if len(g.head) > 0 {
			at.Line, cell = g.head[min(len(g.head)-1, 3)].line, g.cell(min(len(g.head)-1, 3), 0)
		}
		g.fault(diag.Message{
			ID: "time-missing", Place: at, Text: "no column holds times that can be read",
			Found:    fmt.Sprintf("%.40q", cell),
			Expected: "dates and times, day numbers, epoch seconds, or seconds from the start under a heading such as time",
			Mend:     "name the column and its form in the map (time: columns, form), or give time: step where there is none",
		})
		return false
	}
	g.p.time, g.p.Form, g.first = best.columns, best.form, best.first
	g.dayOrMonth(best)
	if !best.timed && (best.form == ISO || best.form == DayMonth || best.form == MonthDay) {
		g.joinTime()
	}
	if best.form == Cut {
		g.p.questions = append(g.p.questions, Question{
			ID: "time-cut", Column: g.nameAt(best.columns[0]),
			Text:  "The times were cut to minutes, seconds and tenths by a spreadsheet.",
			Taken: "the hours are counted from the first row, and each row is within one hour of the one before",
			Choices: []string{
				"save the log again with full times", "time: step: 0.01 s, the time between two rows",
			}, Key: "time.step",
		})
	}
	return true
}

// counted is a log without times, whose step the map gives.
func (g *guesser) counted() bool {
	for g.first < len(g.head) && !g.numeric(g.first) {
		g.first++
	}
	return true
}

func (g *guesser) numeric(row int) bool {
	n := 0
	for c := range g.head[row].cells {
		if _, ok := number([]byte(g.cell(row, c)), false); ok {
			n++
		}
	}
	return n > 0 && 2*n >= len(g.head[row].cells)
}

// better orders candidates: more rows, then more order, then the earlier form and column.
func (x candidate) better(than candidate) bool {
	if x.rows != than.rows {
		return x.rows > than.rows
	}
	return x.rises > than.rises
}

// try reads a column as times of a form.
func (g *guesser) try(f Form, col int, said bool) candidate {
	x := candidate{columns: []int{col}, form: f, first: -1}
	var last int64
	heading := false
	for i := range g.head {
		text := g.cell(i, col)
		if text == "" {
			continue
		}
		s, ok := f.read([]byte(text), strings.Contains(text, ","))
		if ok && !said && !plausible(f, text) {
			ok = false
		}
		if !ok {
			heading = heading || x.rows == 0 && timeWords.MatchString(text)
			continue
		}
		if x.first < 0 {
			x.first = i
		}
		if x.rows > 0 && s.ns >= last {
			x.rises++
		}
		x.timed = x.timed || strings.Contains(text, ":")
		last = s.ns
		x.rows++
	}
	switch {
	case x.first < 0, 5*x.rows < 3*(len(g.head)-x.first): // three of five rows at least
		return candidate{}
	case said:
	case f == Serial1904, f == TimeOfDay && g.isDateBeside(col):
		return candidate{}
	case !f.clock() && f != TimeOfDay && f != Cut:
		if !heading || x.rises < x.rows-1 || g.elapsedForm(col, x.first) != f {
			return candidate{}
		}
	case f == Serial && !heading && x.rises < x.rows-1:
		return candidate{}
	}
	return x
}

// isDateBeside is true for a time of day whose date stands in a column of its own.
func (g *guesser) isDateBeside(col int) bool {
	for _, f := range []Form{ISO, DayMonth, MonthDay} {
		for c := range min(g.widest(), 12) {
			if c != col {
				if _, ok := f.read([]byte(g.cell(len(g.head)-1, c)), false); ok {
					return true
				}
			}
		}
	}
	return false
}

// plausible keeps numbers from being read as times by chance.
func plausible(f Form, text string) bool {
	v, _ := number([]byte(text), strings.Contains(text, ","))
	switch f {
	case EpochS:
		return v > 9e8 && v < 4e9
	case EpochMS:
		return v > 9e11 && v < 4e12
	case EpochUS:
		return v > 9e14 && v < 4e15
	case Ticks:
		return v > 1.2e17 && v < 1.5e17
	case Serial:
		return v > 30_000 && v < 75_000
	}
	return true
}

// elapsedForm is the unit of times that count from the start, by the heading above.
func (g *guesser) elapsedForm(col, first int) Form {
	for i := first - 1; i >= 0; i-- {
		t := strings.ToLower(g.cell(i, col))
		switch {
		case t == "":
			continue
		case t == "ms" || strings.Contains(t, "ms)") || strings.Contains(t, "ms]") || strings.HasSuffix(t, "_ms") ||
			strings.HasSuffix(t, " ms") || strings.Contains(t, "milli"):
			return ElapsedMS
		case strings.Contains(t, "min"):
			return ElapsedMin
		case strings.Contains(t, "hour") || strings.HasSuffix(t, " h") || strings.Contains(t, "(h)") ||
			strings.Contains(t, "[h]") || t == "h":
			return ElapsedHour
		case t == "s" || strings.Contains(t, "sec") || strings.Contains(t, "(s)") || strings.Contains(t, "[s]") ||
			strings.HasSuffix(t, " s") || strings.HasSuffix(t, "_s"):
			return ElapsedS
		}
	}
	return ElapsedS
}

// yearDay finds three columns of year, day of the year and hhmm.
func (g *guesser) yearDay() candidate {
	var best candidate
	for c := range min(g.widest()-2, 10) {
		x := candidate{columns: []int{c, c + 1, c + 2}, form: DayOfYear, first: -1, timed: true}
		var last int64
		for i := range g.head {
			s, ok := yearDayTime([]byte(g.cell(i, c)), []byte(g.cell(i, c+1)), []byte(g.cell(i, c+2)))
			if !ok {
				continue
			}
			if x.first < 0 {
				x.first = i
			}
			if x.rows > 0 && s.ns >= last {
				x.rises++
			}
			last = s.ns
			x.rows++
		}
		if x.first >= 0 && x.rises == x.rows-1 && x.rows > 1 && 5*x.rows >= 3*(len(g.head)-x.first) &&
			x.better(best) {
			best = x
		}
	}
	return best
}

// yearDayTime reads year, day of the year and hhmm.
func yearDayTime(y, d, t []byte) (stamp, bool) {
	year, ok1 := whole(y)
	doy, ok2 := whole(d)
	hhmm, ok3 := whole(t)
	if !ok1 || !ok2 || !ok3 || year < firstYear || year > lastYear || doy < 1 || doy > 366 || hhmm > 2400 ||
		hhmm%100 > 59 {
		return stamp{}, false
	}
	return stamp{ns: (daysTo(int(year), 1, 1)+doy-1)*day + hhmm/100*hour + hhmm%100*minute}, true
}

// dayOrMonth settles the order of day and month, or asks.
func (g *guesser) dayOrMonth(x candidate) {
	if g.m.Time.Form.Set || x.form != DayMonth && x.form != MonthDay {
		return
	}
	text := g.cell(x.first, x.columns[0])
	other := MonthDay
	if x.form == MonthDay {
		other = DayMonth
	}
	y := g.try(other, x.columns[0], true)
	upper := strings.ToUpper(text)
	switch {
	case y.rows < x.rows || y.rises < x.rises, strings.Contains(text, "."), strings.IndexFunc(text, isLetter) >= 0 &&
		!strings.Contains(upper, "AM") && !strings.Contains(upper, "PM"):
		return // only one order fits; points are of Europe; the month has its name
	case strings.Contains(upper, "AM"), strings.Contains(upper, "PM"):
		g.p.Form = MonthDay
		return
	}
	if strings.Contains(text, "/") {
		g.p.Form = MonthDay // as in the United States
	}
	g.p.questions = append(g.p.questions, Question{
		ID: "day-or-month", Column: g.nameAt(x.columns[0]),
		Text:  fmt.Sprintf("%q may be day, month or month, day.", text),
		Taken: string(g.p.Form), Choices: []string{string(DayMonth), string(MonthDay)}, Key: "time.form",
	})
}

func isLetter(r rune) bool { return r|0x20 >= 'a' && r|0x20 <= 'z' && r != 'T' }

// joinTime finds the column of the time beside one of the date.
func (g *guesser) joinTime() {
	for _, col := range []int{g.p.time[0] + 1, g.p.time[0] - 1} {
		s := &scan{[]byte(g.cell(g.first, col))}
		if _, ok := s.clock(); ok && len(s.b) == 0 && strings.Contains(g.cell(g.first, col), ":") {
			g.p.time = append(g.p.time, col)
			return
		}
	}
}

var (
	commaNumber = regexp.MustCompile(`^[-+]?(\d+|\d{1,3}(\.\d{3})+),\d+$`)
	pointNumber = regexp.MustCompile(`^[-+]?(\d*|\d{1,3}(,\d{3})+)\.\d+$`)
	threeAfter  = regexp.MustCompile(`^[-+]?[1-9]\d{0,2},\d{3}$`)
)

// decimals finds the decimal sign. It reports false where a decimal comma is the delimiter too.
func (g *guesser) decimals() bool {
	commas, points, three := 0, 0, 0
	for i := g.first; i < len(g.head); i++ {
		for c := range g.head[i].cells {
			t := g.cell(i, c)
			switch {
			case commaNumber.MatchString(t):
				if commas++; threeAfter.MatchString(t) {
					three++
				}
			case pointNumber.MatchString(t):
				points++
			}
		}
	}
	if g.m.Decimal.Set {
		g.p.Comma = g.m.Decimal.Text == "comma"
		return true
	}
	g.p.Comma = commas > 0 && (points == 0 || commas > points && three < commas)
	switch {
	case commas > 0 && points > 0 && three < commas && !slices.Contains(g.p.time, 0) && commas == points:
		g.fault(diag.Message{
			ID: "decimals-mixed", Place: diag.Place{Line: g.head[g.first].line, Col: 1},
			Text: "numbers with decimal points and with decimal commas stand side by side", Expected: "one kind",
			Mend: "say in the map which it is (decimal: point or comma)",
		})
		return false
	case g.p.Comma && three == commas:
		g.p.questions = append(g.p.questions, Question{
			ID: "decimal-or-thousands", Text: "The commas may part decimals or group thousands.",
			Taken: "decimal comma", Choices: []string{"comma", "point"}, Key: "decimal",
		})
	}
	if g.split() {
		g.fault(diag.Message{
			ID: "decimal-comma-split", Place: diag.Place{Line: g.head[g.first].line, Col: 1},
			Text:     "the comma parts the cells and the decimals of the numbers",
			Found:    fmt.Sprintf("%d cells under %d headings", g.filled(g.first), g.filled(g.first-1)),
			Expected: "semicolons or tabs between the cells, or numbers in quotes",
			Mend:     "save the table again with another delimiter",
		})
		return false
	}
	return true
}

func (g *guesser) filled(row int) int {
	n := 0
	for c := range g.widest() {
		if g.cell(row, c) != "" {
			n++
		}
	}
	return n
}

// split is true where every number of a row lies in two cells.
func (g *guesser) split() bool {
	if g.first == 0 || g.m.Delimiter.Set && g.m.Delimiter.Text != "," {
		return false
	}
	h, t := 0, len(g.p.time)
	for i := max(0, g.first-3); i < g.first; i++ {
		h = max(h, g.filled(i))
	}
	for c := range g.widest() {
		if !slices.Contains(g.p.time, c) && strings.Contains(g.cell(g.first, c), ".") {
			return false
		}
	}
	return h > t && g.filled(g.first) == 2*h-t && g.first+1 < len(g.head) && g.filled(g.first+1) == 2*h-t
}
