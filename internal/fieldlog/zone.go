package fieldlog

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // a machine without a list of zones has the same ones

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// zone is the clock of a place, and what of a log was read by it.
type zone struct {
	name string
	loc  *time.Location

	from, to, offset int64 // the stretch of one offset that was looked at last, ns

	last    int64 // the row above
	step    int64 // from one row to the next; below zero where the newest come first
	rows    int
	doubled []doubled
}

// doubled is a stretch that the clock shows twice, as it is set back.
type doubled struct {
	first, second int64 // where it begins, ns
	longNS        int64
	seen          [2]bool // which of the two the rows show
}

var (
	// zoneWords are names of the IANA database.
	zoneWords = regexp.MustCompile(`\b(?:Africa|America|Antarctica|Arctic|Asia|Atlantic|Australia|Canada|Etc|Europe|Indian|Pacific|US)/[A-Za-z0-9_+/-]*[A-Za-z0-9]`)
	// zoneShift is an offset from world time, in a heading or a map.
	zoneShift = regexp.MustCompile(`\b(?:UTC|GMT)(?:\s*([+-])(\d{1,2})(?::?(\d{2}))?)?\b`)
)

// zoneOf is the clock of a zone by its name, or by its offset from UTC; nil for what is none.
func zoneOf(name string) *zone {
	if m := zoneShift.FindStringSubmatch(name); m != nil && m[0] == name {
		h, _ := strconv.Atoi("0" + m[2])
		s, _ := strconv.Atoi("0" + m[3])
		if h > 14 || s > 59 {
			return nil
		}
		if s += 60 * h; m[1] == "-" {
			s = -s
		}
		return &zone{name: name, loc: time.FixedZone(name, 60*s)}
	}
	if zoneWords.FindString(name) != name {
		return nil
	}
	loc, err := time.LoadLocation(name)
	if err != nil {
		return nil
	}
	return &zone{name: name, loc: loc}
}

// offsetAt is how far the clock is before world time at an instant, ns.
func (z *zone) offsetAt(ns int64) int64 {
	if ns < z.from || ns >= z.to {
		t := time.Unix(0, ns).In(z.loc)
		_, s := t.Zone()
		z.offset, z.from, z.to = int64(s)*second, math.MinInt64, math.MaxInt64
		start, end := t.ZoneBounds()
		if !start.IsZero() {
			z.from = start.UnixNano()
		}
		if !end.IsZero() {
			z.to = end.UnixNano()
		}
	}
	return z.offset
}

// instants are the instants at which the clock shows a time, the earlier first: none as it is set
// forward, two as it is set back.
func (z *zone) instants(shown int64) (at [2]int64, n int) {
	before, after := z.offsetAt(shown-day), z.offsetAt(shown+day)
	if z.offsetAt(shown-before) == before {
		at[n], n = shown-before, n+1
	}
	if after != before && z.offsetAt(shown-after) == after {
		at[n], n = shown-after, n+1
	}
	return at, n
}

// instant is the instant of a row; of two that which is nearer to where the next row is due. It
// reports false for a time that the clock never shows.
func (z *zone) instant(shown int64) (int64, bool) {
	at, n := z.instants(shown)
	pick := 0
	if n == 2 {
		if due := z.last + z.step; z.rows > 0 && abs(at[1]-due) < abs(at[0]-due) {
			pick = 1
		}
		z.twice(at).seen[pick] = true
	}
	if n > 0 {
		if d := at[pick] - z.last; z.rows > 0 && abs(d) <= change { // no gap
			z.step = d
		}
		z.last, z.rows = at[pick], z.rows+1
	}
	return at[pick], n > 0
}

// twice is the stretch in which two instants show one time.
func (z *zone) twice(at [2]int64) *doubled {
	long := at[1] - at[0]
	for i := range z.doubled {
		if d := &z.doubled[i]; at[0] >= d.first && at[0] < d.second {
			return d
		}
	}
	z.offsetAt(at[1])
	z.doubled = append(z.doubled, doubled{first: z.from - long, second: z.from, longNS: long})
	return &z.doubled[len(z.doubled)-1]
}

// shown is an instant as the clock has it.
func (z *zone) shown(ns int64) string { return time.Unix(0, ns).In(z.loc).Format("2006-01-02 15:04") }

func abs(n int64) int64 { return max(n, -n) }

// readZone is the zone that a map names; the list has what is wrong with it.
func readZone(w yamlfile.Word, clock yamlfile.Word, list *diag.List) {
	switch {
	case !w.Set:
	case zoneOf(w.Text) == nil:
		list.Add(diag.Message{
			ID: "zone-unknown", Place: w.Place, Path: "time.zone", Text: "this is no time zone",
			Found: strconv.Quote(w.Text), Expected: "a name of the IANA database, or an offset from UTC",
			Mend: "write such as America/New_York, Europe/Berlin, UTC or UTC-05:00",
		})
	case clock.Set:
		list.Add(diag.Message{
			ID: "zone-and-clock", Place: clock.Place, Path: "time.clock",
			Text:  "a zone says already when its clock is changed",
			Found: "zone: " + w.Text + " and clock: " + clock.Text, Expected: "one of the two",
			Mend: "leave out clock; a clock in this zone that is never changed has an offset, such as zone: UTC-05:00",
		})
	}
}

// zones finds the zone of the clock: in the map, above the times, or in a column of its own.
func (g *guesser) zones() {
	g.p.zone = -1
	if !g.p.Form.clock() {
		if z := g.m.Time.Zone; z.Set {
			g.list.Add(diag.Message{
				ID: "zone-without-clock", Place: z.Place, Path: "time.zone",
				Text: "the times of " + g.file + " count from the start: no zone moves them", Found: z.Text,
				Expected: "a log with dates", Mend: "leave out zone",
			})
		}
		return
	}
	for c := range g.width {
		if g.holdsZones(c) {
			g.p.zone = c
		}
	}
	if g.m.Time.Zone.Set {
		g.p.Zone = g.m.Time.Zone.Text
		return
	}
	for i := range g.first {
		for c := range g.head[i].cells {
			found := zoneWords.FindAllString(g.cell(i, c), -1)
			if m := zoneShift.FindString(g.cell(i, c)); m != "" && i+1 == g.first && c == g.p.time[0] {
				found = append(found, m)
			}
			for _, name := range found {
				switch {
				case zoneOf(name) == nil:
				case g.p.Zone == "":
					g.p.Zone = name
				case g.p.Zone != name:
					g.fault(twoZones(diag.Place{Line: g.head[i].line, Col: c + 1}, g.p.Zone, name))
					return
				}
			}
		}
	}
}

// holdsZones is true for a column of names of zones.
func (g *guesser) holdsZones(c int) bool {
	n := 0
	for i := g.first; i < len(g.head); i++ {
		t := g.cell(i, c)
		if t == "" {
			continue
		}
		if n++; zoneWords.FindString(t) != t {
			return false
		}
	}
	return n > 0
}

func twoZones(at diag.Place, first, second string) diag.Message {
	return diag.Message{
		ID: "zones-two", Place: at, Text: "two time zones stand in one log", Found: first + " and " + second,
		Expected: "one zone", Mend: "cut the log into one file for each zone, and correct time: zone in the map if it is wrong",
	}
}

// place turns the time of a row into an instant where a zone is known. It reports false where the log
// cannot be read any further.
func (r *reading) place(s *stamp, line int, cells [][]byte) bool {
	at := diag.Place{Line: line, Col: 1}
	if len(r.p.time) > 0 {
		at.Col = r.p.time[0] + 1
	}
	if !r.named(s.zone, at) {
		return false
	}
	if r.p.zone >= 0 && !r.named(cellOf(cells, r.p.zone), diag.Place{Line: line, Col: r.p.zone + 1}) {
		return false
	}
	if r.zone == nil || s.zoned {
		return true
	}
	ns, ok := r.zone.instant(s.ns)
	if !ok {
		r.fault(diag.Message{
			ID: "time-skipped", Place: at, Text: "the clock of " + r.zone.name + " never shows this time: it is set forward over it",
			Found: time.Unix(0, s.ns).UTC().Format("2006-01-02 15:04:05"), Expected: "a time before or behind that hour",
			Mend: "this clock was not set forward: give its offset in the map, such as time: {zone: UTC-05:00}",
		})
		return false
	}
	s.ns, s.zoned = ns, true
	return true
}

// named takes the zone that a row names; an empty name says nothing.
func (r *reading) named(name []byte, at diag.Place) bool {
	switch {
	case len(name) == 0, r.zone != nil && r.zone.name == string(name):
		return true
	case r.zone != nil:
		r.fault(twoZones(at, r.zone.name, oneLine(string(name))))
		return false
	}
	if r.zone = zoneOf(string(name)); r.zone == nil {
		r.fault(diag.Message{
			ID: "zone-unknown", Place: at, Text: "this is no time zone", Found: fmt.Sprintf("%.40q", name),
			Expected: "a name of the IANA database, such as America/New_York", Mend: "name the zone in the map (time: zone)",
		})
		return false
	}
	r.p.Zone = r.zone.name
	return true
}

// settleTwice says how hours were read that the clock shows twice, and moves rows where the map says
// which hour they are of.
func (r *reading) settleTwice() {
	if r.zone == nil {
		return
	}
	r.log.Zone = r.zone.name
	for _, d := range r.zone.doubled {
		from := r.zone.shown(d.first)
		if d.seen[0] && d.seen[1] {
			r.log.Notes = append(r.log.Notes, fmt.Sprintf(
				"the clock of %s shows the time from %s twice; the order of the rows settles which is which", r.zone.name, from))
			continue
		}
		taken := "first"
		if d.seen[1] {
			taken = "second"
		}
		asked := r.m.Time.Twice.Text
		if asked == "" {
			r.log.Questions = append(r.log.Questions, Question{
				ID: "time-twice", Text: fmt.Sprintf(
					"The clock of %s shows the time from %s twice, and the log holds it once.", r.zone.name, from),
				Taken: taken, Choices: []string{"first", "second"}, Key: "time.twice",
			})
		} else if asked != taken {
			r.moveTwice(d, taken == "first")
		}
	}
}

// moveTwice moves the rows of the one stretch into the other.
func (r *reading) moveTwice(d doubled, later bool) {
	from, by := d.second, -d.longNS
	if later {
		from, by = d.first, d.longNS
	}
	for _, a := range r.axes {
		for i := range a.times.n {
			if t := a.times.at(i); t >= from && t < from+d.longNS {
				a.times.set(i, t+by)
			}
		}
	}
}

// zoneAfter takes the name of a zone from the end of a time: in brackets, or behind a blank.
func zoneAfter(b []byte) (rest, name []byte) {
	s := string(b)
	switch {
	case strings.HasSuffix(s, "]") && strings.Contains(s, "["):
		at := strings.LastIndex(s, "[")
		return trimEnd(b[:at]), b[at+1 : len(b)-1]
	case strings.Contains(s, "/") && !strings.ContainsAny(s[:1], "+-0123456789"):
		return nil, b
	}
	return b, nil
}

func trimEnd(b []byte) []byte {
	for len(b) > 0 && b[len(b)-1] == ' ' {
		b = b[:len(b)-1]
	}
	return b
}
