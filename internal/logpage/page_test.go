package logpage

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"seatward/internal/chart"
	"seatward/internal/fieldlog"
	"seatward/quantity"
)

// written is a page read back.
func written(t *testing.T, csv string) (data, string) {
	t.Helper()
	l, list := fieldlog.Read("made.csv", strings.NewReader(csv), nil)
	if list.Err() != nil {
		t.Fatal(list)
	}
	page, err := Write(l, chart.NewLog(l, nil), quantity.SI)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(page), "const log = ")
	if !ok {
		t.Fatal("the page has no data")
	}
	var d data
	if err := json.NewDecoder(strings.NewReader(rest)).Decode(&d); err != nil {
		t.Fatal(err)
	}
	return d, string(page)
}

func unpacked[T float32 | float64](t *testing.T, s string) []T {
	t.Helper()
	raw, err := base64.StdEncoding.DecodeString(s)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]T, len(raw)/binary.Size(T(0)))
	if _, err := binary.Decode(raw, binary.LittleEndian, out); err != nil {
		t.Fatal(err)
	}
	return out
}

// A short log is kept reading by reading, with the times and the numbers of the file.
func TestShortLogIsWhole(t *testing.T) {
	d, page := written(t, "time s,pressure kPa,<b>state</b> on/off\n0,100,1\n0.5,104.25,1\n1.5,-3,0\n2,,0\n")
	c := d.Channels[0]
	if c.Stretch != 0 || c.Unit != "kPa" {
		t.Errorf("stretch %g, unit %q", c.Stretch, c.Unit)
	}
	times, values := unpacked[float64](t, c.Times), unpacked[float32](t, c.Values)
	for i, want := range [][2]float64{{0, 100}, {0.5, 104.25}, {1.5, -3}} {
		if times[i] != want[0] || float64(values[i]) != want[1] {
			t.Errorf("reading %d: %g at %g, the file has %g at %g", i, values[i], times[i], want[1], want[0])
		}
	}
	if len(values) > 3 && !math.IsNaN(float64(values[3])) {
		t.Errorf("an empty cell became %g", values[3])
	}
	if strings.Contains(page, "<b>state") {
		t.Error("a heading of the log became markup")
	}
}

// Of a long log no peak of a single reading is lost, and around an event every reading is there.
func TestLongLogKeepsPeaks(t *testing.T) {
	const rows, rate, spike, stop = 450_000, 100, 123_457, 300_000
	var b strings.Builder
	b.WriteString("time s,pressure kPa,P1 power kW\n")
	for i := range rows {
		p, kw := 300+5*math.Sin(float64(i)/3000), 20.0
		if i == spike {
			p = 900
		}
		if i > stop {
			kw = 0
		}
		fmt.Fprintf(&b, "%.2f,%.3f,%.1f\n", float64(i)/rate, p, kw)
	}
	d, _ := written(t, b.String())
	c := d.Channels[0]
	low, high := unpacked[float32](t, c.Low), unpacked[float32](t, c.High)
	if len(high) != Stretches || c.Stretch == 0 {
		t.Fatalf("%d stretches of %g s", len(high), c.Stretch)
	}
	at := int((float64(spike) / rate) / c.Stretch)
	if m := max(high[at], high[min(at+1, Stretches-1)], high[max(at-1, 0)]); m != 900 {
		t.Errorf("the peak of one reading is %g in its stretch", m)
	}
	for i := range low {
		if low[i] > high[i] || low[i] < 294 {
			t.Fatalf("stretch %d goes from %g to %g", i, low[i], high[i])
		}
	}
	found := false
	for _, n := range c.Near {
		times := unpacked[float64](t, n.Times)
		if from, to := times[0], times[len(times)-1]; from < float64(stop)/rate && to > float64(stop)/rate {
			found = true
			if got := len(times); math.Abs(float64(got)-(beforeS+afterS)*rate) > 2 {
				t.Errorf("%d readings around the stop, from %g to %g s", got, from, to)
			}
		}
	}
	if !found {
		t.Errorf("the stop has no readings around it; events %v", d.Events)
	}
}
