package fieldlog

import (
	"slices"
	"strings"
	"testing"
	"time"

	"seatward/diag"
)

// rowsAt is a log of one level at the times.
func rowsAt(heading string, times ...string) string {
	return heading + ",level (m)\n" + strings.Join(times, ",1\n") + ",1\n"
}

// instantsOf are the instants of the first channel.
func instantsOf(l *Log) []string {
	var out []string
	for i := range l.Channels[0].Len() {
		out = append(out, time.Unix(0, l.Channels[0].Time(i)).UTC().Format("02T15:04Z"))
	}
	return out
}

// TestZones: wherever the zone stands, the times are its instants. The United States set their clocks
// forward at 2 a.m. on the second Sunday of March and back at 2 a.m. on the first of November (15
// U.S.C. 260a); the European Union at 01:00 UTC on the last Sundays of March and October (Directive
// 2000/84/EC).
func TestZones(t *testing.T) {
	spring := []string{"2026-03-08 01:30", "2026-03-08 03:00", "2026-03-08 03:30"}
	springAt := []string{"08T06:30Z", "08T07:00Z", "08T07:30Z"}
	with := func(end string) (out []string) {
		for _, s := range spring {
			out = append(out, s+end)
		}
		return out
	}
	for _, tt := range []struct {
		name, text, said string
		want             []string
	}{
		{"map", rowsAt("time", spring...), "time: {zone: America/New_York}\n", springAt},
		{"heading", rowsAt("time (America/New_York)", spring...), "", springAt},
		{"note above", "Zone: America/New_York\n\n" + rowsAt("time", spring...), "", springAt},
		{"column", rowsAt("time,zone", with(",America/New_York")...), "", springAt},
		{"behind the time", rowsAt("time", with(" America/New_York")...), "", springAt},
		{"in brackets", rowsAt("time", with("[America/New_York]")...), "", springAt},
		{
			"offset and brackets",
			rowsAt("time", "2026-11-01T01:30-04:00[America/New_York]", "2026-11-01T01:30-05:00[America/New_York]"), "",
			[]string{"01T05:30Z", "01T06:30Z"},
		},
		{"offset in the map", rowsAt("time", "2026-03-08 01:30", "2026-03-08 02:30"), "time: {zone: UTC-05:00}\n", []string{"08T06:30Z", "08T07:30Z"}},
		{"world time", rowsAt("time (UTC)", spring...), "", []string{"08T01:30Z", "08T03:00Z", "08T03:30Z"}},
		{"offset in the heading", "\"Date Time, GMT-05:00\",level (m)\n2026-03-08 01:30,1\n2026-03-08 02:30,1\n", "", []string{"08T06:30Z", "08T07:30Z"}},
		{
			"Berlin", rowsAt("time (Europe/Berlin)", "2026-03-29 01:30", "2026-03-29 03:00", "2026-10-25 01:59"), "",
			[]string{"29T00:30Z", "29T01:00Z", "24T23:59Z"},
		},
	} {
		l := readText(t, tt.text, tt.said)
		if got := instantsOf(l); !slices.Equal(got, tt.want) || !l.Zoned || l.Zone == "" {
			t.Errorf("%s: %v in %q, want %v", tt.name, got, l.Zone, tt.want)
		}
		for _, q := range l.Questions {
			if strings.HasPrefix(q.Key, "time") {
				t.Errorf("%s: asks %s", tt.name, q.ID)
			}
		}
	}
}

// TestHourTwice: the order of the rows tells which of two equal hours is meant; where the log holds one
// only, it is asked, and the map answers.
func TestHourTwice(t *testing.T) {
	both := []string{"00:30", "01:00", "01:30", "01:00", "01:30", "02:00"}
	want := []string{"01T04:30Z", "01T05:00Z", "01T05:30Z", "01T06:00Z", "01T06:30Z", "01T07:00Z"}
	log := func(times []string) string {
		var all []string
		for _, s := range times {
			all = append(all, "2026-11-01 "+s)
		}
		return rowsAt("time (America/New_York)", all...)
	}
	asked := func(l *Log) bool {
		return slices.ContainsFunc(l.Questions, func(q Question) bool { return q.Key == "time.twice" })
	}
	l := readText(t, log(both), "")
	if got := instantsOf(l); !slices.Equal(got, want) || asked(l) ||
		!strings.Contains(strings.Join(l.Notes, "\n"), "01:00 twice") {
		t.Errorf("both: %v, asked %v, told %v", got, l.Questions, l.Notes)
	}
	down := slices.Clone(both)
	slices.Reverse(down)
	if got := instantsOf(readText(t, log(down), "")); !slices.Equal(got, want) {
		t.Errorf("newest first: %v", got)
	}
	jitter := []string{"00:59", "01:01", "01:00", "01:30", "01:00", "01:02", "02:00"}
	if got := instantsOf(readText(t, log(jitter), "")); !slices.Equal(got, []string{
		"01T04:59Z", "01T05:00Z", "01T05:01Z", "01T05:30Z", "01T06:00Z", "01T06:02Z", "01T07:00Z",
	}) {
		t.Errorf("two rows in the wrong order: %v", got)
	}
	hourly := readText(t, log([]string{"00:00", "01:00", "01:00", "02:00"}), "")
	if got := instantsOf(hourly); !slices.Equal(got, []string{"01T04:00Z", "01T05:00Z", "01T06:00Z", "01T07:00Z"}) {
		t.Errorf("hour by hour: %v", got)
	}
	once := log([]string{"00:30", "01:00", "01:30", "02:00"})
	l = readText(t, once, "")
	if got := instantsOf(l); got[1] != "01T05:00Z" || !asked(l) {
		t.Errorf("once: %v, asked %v", got, l.Questions)
	}
	l = readText(t, once, "time: {twice: second}\n")
	if got := instantsOf(l); !slices.Equal(got, []string{"01T04:30Z", "01T06:00Z", "01T06:30Z", "01T07:00Z"}) ||
		asked(l) {
		t.Errorf("the second: %v, asked %v", got, l.Questions)
	}
	if got := instantsOf(readText(t, once, string(l.Map.YAML(nil)))); got[1] != "01T06:00Z" {
		t.Errorf("by the map that was kept: %v\n%s", got, l.Map.YAML(nil))
	}
}

// TestZonesRefused: what cannot be is one message that says how to mend it.
func TestZonesRefused(t *testing.T) {
	for _, tt := range []struct{ name, text, said, id string }{
		{"no such time", rowsAt("time", "2026-03-08 01:30", "2026-03-08 02:30"), "time: {zone: America/New_York}\n", "time-skipped"},
		{"two zones in the rows", rowsAt("time,tz", "2026-05-01 01:30,Europe/Berlin", "2026-05-01 02:30,Europe/Paris"), "", "zones-two"},
		{"two zones above", "written in Europe/Paris\n" + rowsAt("time (Europe/Berlin)", "2026-05-01 01:30", "2026-05-01 01:31"), "", "zones-two"},
		{"map and rows", rowsAt("time", "2026-05-01 01:30 Europe/Berlin", "2026-05-01 02:30 Europe/Berlin"), "time: {zone: Europe/Paris}\n", "zones-two"},
		{"no zone", rowsAt("time,tz", "2026-05-01 01:30,Europe/Nowhere", "2026-05-01 02:30,Europe/Nowhere"), "", "zone-unknown"},
		{"no zone in the map", "", "time: {zone: Eastern}\n", "zone-unknown"},
		{"the zone of this machine", "", "time: {zone: Local}\n", "zone-unknown"},
		{"zone and clock", "", "time: {zone: Europe/Berlin, clock: fixed}\n", "zone-and-clock"},
		{"zone without a clock", rowsAt("t (s)", "0", "1", "2"), "time: {zone: Europe/Berlin}\n", "zone-without-clock"},
	} {
		var m *MapFile
		var list diag.List
		if tt.said != "" {
			m, list = ReadMap("log.map.yaml", []byte(tt.said))
		}
		if list.Err() == nil {
			_, list = Read("x.csv", strings.NewReader(tt.text), m)
		}
		if len(list) != 1 || list[0].ID != tt.id || list[0].Place.File == "" || list[0].Found == "" || list[0].Mend == "" {
			t.Errorf("%s: %v", tt.name, list)
		}
	}
}
