package fieldlog

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// headings finds the rows of headings and units above the data, and names the columns.
func (g *guesser) headings() {
	g.width = g.widest()
	h, u := g.first-1, -1
	for h >= 0 && 2*g.filled(h) < min(g.width, max(2, g.filled(g.first))) {
		h-- // notes above the data are no headings
	}
	if h > 0 && g.isUnits(h) {
		u = h
		for h--; h >= 0 && 2*g.filled(h) < g.width; {
			h--
		}
	}
	row := func(n yamlfile.Num, found int) int {
		if !n.Set {
			return found
		}
		return slices.IndexFunc(g.head, func(r headRow) bool { return r.line == int(n.Value) })
	}
	h, u = row(g.m.Heading, h), row(g.m.Units, u)
	if g.m.First.Set {
		if at := slices.IndexFunc(g.head, func(r headRow) bool { return r.line >= int(g.m.First.Value) }); at >= 0 {
			g.first = at
		}
	}
	line := func(i int) int {
		if i < 0 {
			return 0
		}
		return g.head[i].line
	}
	g.p.Heading, g.p.Units, g.p.First = line(h), line(u), g.head[min(g.first, len(g.head)-1)].line
	taken := map[string]bool{}
	for c := range g.width {
		name := oneLine(g.cell(h, c))
		if h < 0 || name == "" {
			name = fmt.Sprintf("column %d", c+1)
		}
		if taken[name] {
			name = fmt.Sprintf("%s (column %d)", name, c+1)
		}
		taken[name] = true
		g.p.names = append(g.p.names, name)
	}
	for _, c := range g.p.time {
		g.p.Time = append(g.p.Time, g.p.names[c])
	}
}

func (g *guesser) nameAt(c int) string {
	if c < len(g.p.names) {
		return g.p.names[c]
	}
	if t := oneLine(g.cell(g.first-1, c)); t != "" {
		return t
	}
	return fmt.Sprintf("column %d", c+1)
}

// isUnits is true for a row most of whose cells are units.
func (g *guesser) isUnits(row int) bool {
	units, all := 0, 0
	for c := range g.width {
		t := strings.Trim(g.cell(row, c), "[]() ")
		if t == "" || slices.Contains(g.p.time, c) {
			continue
		}
		all++
		if _, ok := meaningOf(t); ok {
			units++
		}
	}
	return units > 0 && 2*units > all
}

func (g *guesser) unitAt(c int) string {
	if g.p.Units == 0 {
		return ""
	}
	for i := range g.head {
		if g.head[i].line == g.p.Units {
			return oneLine(strings.Trim(g.cell(i, c), "[]() "))
		}
	}
	return ""
}

// byMap takes the columns that the map names. It reports false where one is not there.
func (g *guesser) byMap() bool {
	find := func(w yamlfile.Word) int {
		at := slices.Index(g.p.names, oneLine(w.Text))
		if at < 0 && w.Set {
			g.list.Add(diag.Message{
				ID: "column-missing", Place: w.Place, Path: w.Path,
				Text: fmt.Sprintf("%s has no column %q", g.file, w.Text),
				Expected: "one of: " + strings.Join(g.p.names[:min(12, len(g.p.names))],
					", "), Mend: "mend the name in the map",
			})
		}
		return at
	}
	if len(g.m.Time.Columns) > 0 {
		g.p.time, g.p.Time = nil, nil
		for _, w := range g.m.Time.Columns {
			if at := find(w); at >= 0 {
				g.p.time, g.p.Time = append(g.p.time, at), append(g.p.Time, w.Text)
			}
		}
	}
	g.p.tag, g.p.value = find(g.m.Tag), find(g.m.Value)
	if g.m.Quality.Text != "none" {
		g.p.quality = find(g.m.Quality)
	}
	return g.list.Err() == nil
}

var (
	tagWords     = regexp.MustCompile(`(?i)tag|point|signal|channel|variable|sensor|parameter|\bitem\b|name|messstelle`)
	valueWords   = regexp.MustCompile(`(?i)value|\bval\b|wert|reading|result|measurement`)
	qualityWords = regexp.MustCompile(`(?i)qual|status|\bflag\b|\bqc\b|güte`)
)

// about is what the first rows of a column hold.
type about struct{ numbers, words, states, blanks, codes, distinct int }

func (g *guesser) about(c int) about {
	var a about
	seen := map[string]bool{}
	for i := g.first; i < len(g.head); i++ {
		t := g.cell(i, c)
		_, isNumber := number([]byte(t), g.p.Comma)
		_, isState := states[strings.ToLower(t)]
		_, isCode := good([]byte(t))
		if isCode {
			a.codes++
		}
		seen[t] = true
		switch {
		case blank([]byte(t)):
			a.blanks++
		case isNumber:
			if a.numbers++; t == "0" || t == "1" {
				a.states++
			}
		case isState:
			a.states++
		default:
			a.words++
		}
	}
	a.distinct = len(seen)
	return a
}

// ofTime is true for a column of times or of their zone.
func (g *guesser) ofTime(c int) bool { return slices.Contains(g.p.time, c) || c == g.p.zone }

// layout finds whether the table is wide or narrow, and its columns.
func (g *guesser) layout() {
	tag, value := -1, -1
	for c := range g.width {
		if g.ofTime(c) {
			continue
		}
		a := g.about(c)
		rows := len(g.head) - g.first
		switch {
		case 10*a.words > 9*rows && a.distinct < max(2, rows) && a.codes < a.words && tag < 0 &&
			(tagWords.MatchString(g.p.names[c]) || a.distinct > 1 && 2*a.distinct <= rows):
			tag = c
		case valueWords.MatchString(g.p.names[c]) && value < 0:
			value = c
		}
	}
	if tag >= 0 && value < 0 {
		for c := range g.width {
			if a := g.about(c); !g.ofTime(c) && c != tag && a.numbers+a.states > a.words &&
				value < 0 {
				value = c
			}
		}
	}
	if g.p.tag >= 0 {
		tag = g.p.tag
	}
	if g.p.value >= 0 {
		value = g.p.value
	}
	g.p.Narrow = tag >= 0 && value >= 0 && (tagWords.MatchString(g.p.names[tag]) ||
		valueWords.MatchString(g.p.names[value]))
	if g.m.Layout.Set {
		g.p.Narrow = g.m.Layout.Text == "narrow"
		if g.p.Narrow && (tag < 0 || value < 0) {
			g.list.Add(diag.Message{
				ID: "tag-missing", Place: g.m.Layout.Place, Path: "layout",
				Text:     "no columns of tags and values are found",
				Expected: "tag: and value: with their headings", Mend: "name both columns in the map",
			})
			return
		}
	}
	if g.p.Narrow {
		g.narrow(tag, value)
		return
	}
	g.p.tag, g.p.value = -1, -1
	g.wide()
}

func (g *guesser) narrow(tag, value int) {
	g.p.tag, g.p.value = tag, value
	g.p.Tag, g.p.Value = g.p.names[tag], g.p.names[value]
	for c := range g.width {
		if g.p.quality < 0 && g.m.Quality.Text != "none" && c != tag && c != value && g.isQuality(c) {
			g.p.quality = c
		}
	}
	if g.p.quality >= 0 {
		g.p.Quality = g.p.names[g.p.quality]
		g.askGood(g.p.quality)
	}
}

func (g *guesser) isQuality(c int) bool {
	return qualityWords.MatchString(g.p.names[c]) && !slices.Contains(g.p.time, c)
}

// askGood asks what codes mean that are not those of OPC and no words.
func (g *guesser) askGood(c int) {
	if len(g.p.Good) > 0 {
		return
	}
	odd, bad, n := "", 0, 0
	for i := g.first; i < len(g.head); i++ {
		t := g.cell(i, c)
		if t == "" {
			continue
		}
		isGood, ok := good([]byte(t))
		if n++; !ok {
			odd = t
		}
		if !isGood {
			bad++
		}
	}
	if odd != "" || n > 0 && bad == n {
		if odd == "" {
			odd = g.cell(g.first, c)
		}
		g.p.questions = append(g.p.questions, Question{
			ID: "quality-unknown", Column: g.p.names[c],
			Text:    fmt.Sprintf("It is not known whether the quality code %q is good.", odd),
			Taken:   "every value is kept",
			Choices: []string{"good: [" + odd + "]", "quality: none"}, Key: "good",
		})
		g.p.quality, g.p.Quality = -1, "none"
	}
}

// wide lists the columns of a wide table.
func (g *guesser) wide() {
	last := -1
	for c := range g.width {
		a := g.about(c)
		switch {
		case g.ofTime(c):
			continue
		case g.isQuality(c) && a.codes > 0 && g.m.Quality.Text != "none":
			was := g.p.quality
			g.askGood(c)
			if g.p.Quality == "none" {
				g.p.quality, g.p.Quality = was, ""
				continue
			}
			if last >= 0 {
				g.p.qualities[last] = c
			}
			continue
		case a.numbers+a.states == 0 && (a.words > 0 || strings.HasPrefix(g.p.names[c], "column ")):
			if a.words > 0 {
				g.p.notes = append(g.p.notes, fmt.Sprintf("the column \"%.40s\" holds words and is not read",
					g.p.names[c]))
			}
			continue
		}
		ch := MapChannel{Column: g.p.names[c], Unit: g.unitAt(c)}
		if g.said(&ch) {
			continue
		}
		if q := settle(&ch, a.states > 0 && a.states >= a.numbers); q != nil {
			g.p.questions = append(g.p.questions, *q)
		}
		last = len(g.p.columns)
		g.p.Channels, g.p.columns, g.p.qualities = append(g.p.Channels, ch), append(g.p.columns, c),
			append(g.p.qualities, -1)
	}
	for _, c := range g.m.Channels {
		if !slices.Contains(g.p.names, oneLine(c.Column.Text)) {
			g.list.Add(diag.Message{
				ID: "column-missing", Place: c.Column.Place, Path: c.Column.Path,
				Text:     fmt.Sprintf("%s has no column %q", g.file, c.Column.Text),
				Expected: "one of: " + strings.Join(g.p.names[:min(12, len(g.p.names))], ", "),
				Mend:     "mend the name in the map",
			})
		}
	}
	if len(g.p.columns) == 0 && g.list.Err() == nil {
		g.fault(diag.Message{
			ID: "values-missing", Place: diag.Place{Line: g.p.First, Col: 1}, Text: "no column holds numbers",
			Expected: "a column of values beside the times",
			Mend:     "check the decimal sign and the delimiter in the map",
		})
	}
}

// said fills a channel with what the map says of it; true where it is not to be read.
func (g *guesser) said(ch *MapChannel) bool {
	for _, c := range g.m.Channels {
		if oneLine(c.Column.Text) != ch.Column {
			continue
		}
		if c.Unit.Set {
			ch.Unit = c.Unit.Text
		}
		ch.Measures, ch.Sample, ch.Pump = Measure(c.Measures.Text), Sample(c.Sample.Text), int(c.Pump.Value)
		if c.Read.Set && !c.Read.Yes() {
			ch.Leave = true
			g.p.Channels = append(g.p.Channels, *ch)
			g.p.columns, g.p.qualities = append(g.p.columns, -1), append(g.p.qualities, -1)
			return true
		}
		if _, ok := ch.scaleOf(); ch.Measures != "" && !ok {
			g.list.Add(diag.Message{
				ID: "unit-wrong", Place: c.Column.Place, Path: c.Column.Path,
				Text:     fmt.Sprintf("the unit %q does not fit a %s", ch.Unit, ch.Measures),
				Expected: "one of: " + strings.Join(unitsFor(ch.Measures), ", "),
				Mend:     "mend unit or measures in the map",
			})
		}
	}
	return false
}
