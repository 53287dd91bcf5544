package fieldlog

import (
	"strings"
	"testing"
	"time"
)

// readText reads a log that must be readable.
func readText(t *testing.T, text, mapText string) *Log {
	t.Helper()
	m := &MapFile{}
	if mapText != "" {
		var list interface{ Err() error }
		m2, l := ReadMap("log.map.yaml", []byte(mapText))
		m, list = m2, l
		if err := list.Err(); err != nil {
			t.Fatal(err)
		}
	}
	log, list := Read("x.csv", strings.NewReader(text), m)
	if err := list.Err(); err != nil {
		t.Fatalf("%v", err)
	}
	return log
}

// point is a row in words: its time and value.
func point(c *Channel, i int) (string, float64) {
	v, ok := c.Logged(i)
	if !ok {
		v = -999
	}
	return time.Unix(0, c.Time(i)).UTC().Format("2006-01-02T15:04:05.999"), v
}

func TestForms(t *testing.T) {
	for _, tt := range []struct {
		name, text, stamp string
		value             float64
		unit              string
		measures          Measure
		form              Form
	}{
		{
			"semicolon and decimal comma",
			"Zeit;Druck [bar]\n\"03.04.2024 07:00:00\";\"1,25\"\n\"03.04.2024 07:00:10\";\"1,26\"\n",
			"2024-04-03T07:00:00", 1.25, "bar", Pressure, DayMonth,
		},
		{
			"units in a second row",
			"time,discharge pressure,flow\n,psi,gpm\n2024-11-15 00:15:00,12.5,300\n2024-11-15 00:15:01,12.6,301\n",
			"2024-11-15T00:15:00", 12.5, "psi", Pressure, ISO,
		},
		{
			"AM and PM", "Date Time,Level (ft)\n11/15/2024 12:15:00 AM,3.1\n11/15/2024 01:15:00 PM,3.2\n",
			"2024-11-15T00:15:00", 3.1, "ft", Level, MonthDay,
		},
		{
			"day number", "stamp,level m\n45611.010416666664,1.5\n45611.020833333336,1.6\n", "2024-11-15T00:15:00",
			1.5, "m", Level, Serial,
		},
		{"epoch seconds", "ts,head_m\n1731629700,22\n1731629701,23\n", "2024-11-15T00:15:00", 22, "m", Head, EpochS},
		{
			"epoch milliseconds", "ts,head (m)\n1731629700000,22\n1731629700002,23\n", "2024-11-15T00:15:00", 22, "m",
			Head, EpochMS,
		},
		{
			"ticks", "ts,level (m)\n133761033000000000,2\n133761033010000000,3\n", "2024-11-15T00:15:00", 2, "m",
			Level, Ticks,
		},
		{
			"zone", "time,level (m)\n2024-11-15T01:15:00+01:00,2\n2024-11-15T01:15:01+01:00,3\n",
			"2024-11-15T00:15:00", 2, "m", Level, ISO,
		},
		{
			"date and time apart",
			"Date;Time;P1 discharge pressure (kPa)\n15.11.2024;00:15:00,5;310\n15.11.2024;00:15:01,0;311\n",
			"2024-11-15T00:15:00.5", 310, "kPa", Pressure, DayMonth,
		},
		{
			"seconds from the start", "t (s),head (m)\n0.000,5\n0.002,6\n0.004,7\n", "1970-01-01T00:00:00", 5, "m",
			Head, ElapsedS,
		},
		{
			"year and day of the year", "yr,doy,hhmm,level m\n2024,320,15,1.1\n2024,320,30,1.2\n2024,320,45,1.3\n",
			"2024-11-15T00:15:00", 1.1, "m", Level, DayOfYear,
		},
		{
			"notes above",
			"Logger 17\nstarted by the crew\n\nTime\tPressure (psi)\n2024-11-15 00:15:00\t9\n2024-11-15 00:15:01\t8\n", "2024-11-15T00:15:00", 9, "psi", Pressure, ISO,
		},
		{"no heading", "2024-11-15 00:15:00,9\n2024-11-15 00:15:01,8\n", "2024-11-15T00:15:00", 9, "", Other, ISO},
		{
			"per quarter hour", "time;inflow (m3/15min)\n2024-11-15 00:15;90\n2024-11-15 00:30;91\n",
			"2024-11-15T00:15:00", 90, "m3/15min", Inflow, ISO,
		},
		{
			"month by name", "time,level (m)\n15-Nov-2024 00:15:00,2\n15-Nov-2024 00:16:00,3\n",
			"2024-11-15T00:15:00",
			2, "m", Level, DayMonth,
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			l := readText(t, tt.text, "")
			c := l.Channels[0]
			stamp, v := point(c, 0)
			if stamp != tt.stamp || float32(v) != float32(tt.value) || c.Unit != tt.unit ||
				c.Measures != tt.measures || l.Map.Form != tt.form {
				t.Errorf("%s %g %q %q %q, want %s %g %q %q %q", stamp, v, c.Unit, c.Measures, l.Map.Form, tt.stamp,
					tt.value,
					tt.unit, tt.measures, tt.form)
			}
		})
	}
}

func TestNarrow(t *testing.T) {
	l := readText(t, `DateTime,TagName,Value,Quality
2024-11-15 00:00:00,PS1.P1.Run,0,192
2024-11-15 00:00:00,PS1.WetWell.Level m,1.20,192
2024-11-15 00:03:10,PS1.WetWell.Level m,1.31,192
2024-11-15 00:05:00,PS1.P1.Run,1,192
2024-11-15 00:05:30,PS1.WetWell.Level m,9.99,24
2024-11-15 00:07:41,PS1.P1.Run,0,192
`, "")
	if len(l.Channels) != 2 || l.Bad != 1 || !l.Map.Narrow {
		t.Fatalf("%d channels, %d bad, narrow %v", len(l.Channels), l.Bad, l.Map.Narrow)
	}
	run, level := l.Channels[0], l.Channels[1]
	if run.Measures != State || run.Pump != 1 || level.Measures != Level || !run.Held() {
		t.Errorf("%q %d %q %v", run.Measures, run.Pump, level.Measures, run.Held())
	}
	if _, ok := level.At(2); ok || level.Len() != 3 || run.Len() != 3 {
		t.Errorf("a bad value is kept, or rows are made up: %d %d", level.Len(), run.Len())
	}
}

func TestClockChange(t *testing.T) {
	text := "time,level (m)\n"
	for _, s := range []string{
		"01:30", "01:45", "02:00", "02:15", "02:30", "02:45", "02:00", "02:15", "02:30",
		"02:45", "03:00",
	} {
		text += "2024-10-27 " + s + ":00,1\n"
	}
	c := readText(t, text, "").Channels[0]
	for i := 1; i < c.Len(); i++ {
		if d := c.Time(i) - c.Time(i-1); d != 15*minute {
			t.Errorf("step %d is %g min", i, float64(d)/float64(minute))
		}
	}
	spring := readText(t,
		"time,level (m)\n2024-03-31 01:30:00,1\n2024-03-31 01:45:00,1\n2024-03-31 03:00:00,1\n2024-03-31 03:15:00,1\n", "")
	if got := spring.Channels[0].Whole().Seconds(); got != 45*60 {
		t.Errorf("spring: %g s, want 2700", got)
	}
	if len(spring.Questions) == 0 {
		t.Error("a clock change is taken without a question")
	}
	fixed := readText(t,
		"time,level (m)\n2024-03-31 01:30:00,1\n2024-03-31 01:45:00,1\n2024-03-31 03:00:00,1\n2024-03-31 03:15:00,1\n", "time: {clock: fixed}\n")
	if got := fixed.Channels[0].Whole().Seconds(); got != 105*60 {
		t.Errorf("fixed clock: %g s, want 6300", got)
	}
}

func TestQuestions(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"day or month", "time,level (m)\n03/04/2024 07:00:00,1\n03/04/2024 07:00:01,1\n", "day-or-month"},
		{"no unit", "time,pressure\n2024-11-15 07:00:00,1\n2024-11-15 07:00:01,1\n", "unit-missing"},
		{"level or head", "time,LV4 [m]\n2024-11-15 07:00:00,1\n2024-11-15 07:00:01,1\n", "level-or-head"},
		{
			"decimal or thousands", "time;level (mm)\n2024-11-15 07:00:00;1,200\n2024-11-15 07:00:01;1,201\n",
			"decimal-or-thousands",
		},
		{
			"quality",
			"time,tag,value,quality\n2024-11-15 07:00:00,A level m,1,0\n2024-11-15 07:00:01,A level m,1,0\n",
			"quality-unknown",
		},
		{
			"means", "time,level (m)\n2024-11-15 07:00:00,1\n2024-11-15 07:01:00,1\n2024-11-15 07:02:00,1\n",
			"means-or-instants",
		},
		{"cut", "time,head (m)\n59:58.1,1\n59:58.2,1\n59:58.3,1\n00:01.0,2\n", "time-cut"},
		{"repeated", "time,head (m)\n" + strings.Repeat("2024-11-15 07:00:00,1\n",
			30) + strings.Repeat("2024-11-15 07:00:01,1\n", 30), "time-repeated"},
	} {
		l := readText(t, tt.text, "")
		found := false
		for _, q := range l.Questions {
			found = found || q.ID == tt.want
			if q.Key == "" || q.Taken == "" || len(q.Choices) == 0 {
				t.Errorf("%s: question %s has no way to answer it", tt.name, q.ID)
			}
		}
		if !found {
			t.Errorf("%s: not asked: %v", tt.name, l.Questions)
		}
	}
}

func TestRefused(t *testing.T) {
	for _, tt := range []struct{ name, text, id string }{
		{"empty", "", "log-empty"},
		{"no times", "a,b\n1,2\n3,4\n", "time-missing"},
		{
			"decimal comma in a comma table",
			"time,a (m),b (m)\n2024-11-15 07:00:00,1,25,3,50\n2024-11-15 07:00:01,1,26,3,51\n",
			"decimal-comma-split",
		},
		{
			"two zones", "time,level (m)\n2024-11-15 07:00:00Z,1\n2024-11-15 07:00:01,2\n2024-11-15 07:00:02Z,2\n",
			"zones-mixed",
		},
		{"binary", "a,b\n1,2\x00\x00\n", "not-text"},
		{"an old workbook", "\xd0\xcf\x11\xe0 rest", "file-old"},
	} {
		_, list := Read("x.csv", strings.NewReader(tt.text), nil)
		if len(list) != 1 || list[0].ID != tt.id || list[0].Place.File == "" || list[0].Mend == "" {
			t.Errorf("%s: %v, want one message %s", tt.name, list, tt.id)
		}
	}
}

// TestMapRoundTrip: what was found, written as a map, reads the log the same way and asks less.
func TestMapRoundTrip(t *testing.T) {
	text := "Zeit;\"P1 \"\"Druck\"\" [bar]\";Q2\n\"03.04.2024 07:00:00\";1,25;7\n\"03.04.2024 07:00:10\";1,26;8\n"
	l := readText(t, text, "")
	again := readText(t, text, string(l.Map.YAML(l.Questions)))
	if got, want := string(again.Map.YAML(nil)), string(l.Map.YAML(nil)); got != want {
		t.Errorf("the map reads as\n%s\nwant\n%s", got, want)
	}
}

func TestMapSays(t *testing.T) {
	l := readText(t, "time,x,y\n03/04/2024 07:00:00,1,5\n03/04/2024 07:00:01,2,6\n", `
time: {form: day-month-year}
channels:
  - {column: x, unit: bar, measures: pressure, sample: instant, pump: 2}
  - {column: y, read: no}
`)
	if len(l.Channels) != 1 || l.Channels[0].Pump != 2 || len(l.Questions) != 0 {
		t.Errorf("%d channels, %v", len(l.Channels), l.Questions)
	}
	if v, _ := l.Channels[0].At(1); v != 2e5 {
		t.Errorf("%g Pa, want 200000", v)
	}
	counter := readText(t,
		"time,total volume (m3)\n2024-04-03 07:00:00,123456789.25\n2024-04-03 07:00:01,123456789.75\n", "")
	if v, _ := counter.Channels[0].At(1); v != 123456789.75 {
		t.Errorf("a counter loses its digits: %.3f", v)
	}
	if stamp, _ := point(l.Channels[0], 0); stamp != "2024-04-03T07:00:00" {
		t.Error(stamp)
	}
}

func TestNumbersAsStrconv(t *testing.T) {
	for _, tt := range []struct {
		text  string
		comma bool
		want  float64
		ok    bool
	}{
		{"12.345", false, 12.345, true},
		{"-0,5", true, -0.5, true},
		{"1.234,5", true, 1234.5, true},
		{"1,234.5", false, 1234.5, true},
		{"1e-3", false, 0.001, true},
		{"0x10", false, 0, false},
		{"", false, 0, false},
		{"-", false, 0, false},
		{"12 300", false, 12300, true},
		{"1.2.3", false, 0, false},
		{"12345678901234567890", false, 12345678901234567890, true},
		{"NaN", false, 0, false},
	} {
		if v, ok := number([]byte(tt.text), tt.comma); v != tt.want || ok != tt.ok {
			t.Errorf("%q: %g %v, want %g %v", tt.text, v, ok, tt.want, tt.ok)
		}
	}
}

func TestDaysAsTime(t *testing.T) {
	for d := -7000; d < 80000; d += 13 {
		at := time.Unix(int64(d)*86400, 0).UTC()
		if got := daysTo(at.Year(), int(at.Month()), at.Day()); got != int64(d) {
			t.Fatalf("%v: day %d, want %d", at, got, d)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add("time,level (m)\n2024-11-15 07:00:00,1\n", "layout: wide\n")
	f.Add("Zeit;Druck [bar]\n\"03.04.2024 07:00:00\";\"1,25\"\n", "decimal: comma\n")
	f.Add("DateTime,TagName,Value,Quality\n2024-11-15 00:00:00,A,0,192\n2024-11-15 00:00:00,B,1,24\n", "")
	f.Add("59:58.1,1\n00:01.0,2\n", "time: {step: 0.1 s}\n")
	f.Add("time (America/New_York),level (m)\n2026-11-01 01:30,1\n2026-11-01 01:00,1\n", "time: {twice: second}\n")
	f.Add("45611.01,1e5\n45611.02,-2\n", "time: {form: \"day number\"}\n")
	f.Fuzz(func(t *testing.T, text, mapText string) {
		m, list := ReadMap("m.yaml", []byte(mapText))
		if list.Err() != nil {
			return
		}
		l, list := Read("x.csv", strings.NewReader(text), m)
		if list.Err() != nil {
			for _, x := range list {
				if x.ID == "" || x.Text == "" {
					t.Errorf("a message without a text: %+v", x)
				}
			}
			return
		}
		if _, list := ReadMap("again.yaml", l.Map.YAML(l.Questions)); list.Err() != nil {
			t.Fatalf("its own map is refused: %v\n%s", list, l.Map.YAML(l.Questions))
		}
		for _, c := range l.Channels {
			for i := 1; i < c.Len(); i++ {
				if v, ok := c.At(i); c.Time(i) < c.Time(i-1) || ok && v != v {
					t.Fatalf("row %d of %q: time back or no number", i, c.Name)
				}
			}
			c.Gaps()
		}
	})
}
