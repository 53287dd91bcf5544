package trace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// record is the statistics of one record of check-valve slams that others measured at 500 Hz
// on a laboratory bench: ram-pump team of AguaClara, Cornell University, public repository
// AguaClara/ram_pump, spring and summer 2019. No license is stated, so the records themselves
// are not here; these are their medians and percentiles, with what slower rates keep of the
// peaks (mean share of the 500 Hz peak at 250, 100, 50, 20, 10 and 2 Hz).
type record struct {
	name                   string
	events                 int
	p10, p50, p90, most    float64 // peaks, m
	interval, before, low  float64 // medians: s, m, m
	width, rise, repeatedS float64 // medians, s; share of repeated stamps
	kept                   [6]float64
}

var records = []record{
	{"A", 268, 30.6, 42.3, 51.0, 76.9, 0.361, 1.50, -2.36, 0.010, 0.006, 0.067, [6]float64{
		0.940, 0.773, 0.531,
		0.258, 0.141, 0.026,
	}},
	{"B", 207, 21.9, 31.9, 48.6, 77.5, 0.176, 1.20, -3.84, 0.006, 0.004, 0.087, [6]float64{
		0.850, 0.582, 0.383,
		0.207, 0.118, 0.016,
	}},
	{"C", 123, 28.7, 40.9, 57.9, 79.1, 0.282, 1.12, -3.27, 0.006, 0.004, 0.056, [6]float64{
		0.884, 0.547, 0.422,
		0.228, 0.100, 0.028,
	}},
	{"D", 324, 20.3, 26.8, 39.3, 64.5, 0.278, 1.03, -1.69, 0.006, 0.004, 0.042, [6]float64{
		0.905, 0.696, 0.534,
		0.309, 0.162, 0.030,
	}},
	{"E", 173, 18.2, 28.4, 47.5, 83.6, 0.231, 1.39, -4.27, 0.006, 0.004, 0.069, [6]float64{
		0.859, 0.633, 0.431,
		0.233, 0.126, 0.017,
	}},
	{"F", 242, 16.8, 25.4, 42.3, 83.9, 0.270, 1.37, -4.76, 0.006, 0.004, 0.070, [6]float64{
		0.860, 0.588, 0.443,
		0.274, 0.155, 0.022,
	}},
	{"G", 87, 25.1, 37.9, 53.6, 67.0, 0.352, 1.38, -4.98, 0.008, 0.004, 0.255, [6]float64{
		0.939, 0.739, 0.480,
		0.305, 0.154, 0.030,
	}},
}

// made is a record drawn from the statistics, read every 2 ms, with the times of its peaks.
func (m record) made(seed uint64) (p Points, peaks []float64) {
	r := rand.New(rand.NewPCG(seed, 7))
	spread := math.Log(m.p90/m.p10) / 2.563
	type pulse struct{ at, height, rise, tau float64 }
	var pulses []pulse
	t := 1.0
	for range m.events {
		h := math.Min(m.most, m.p50*math.Exp(spread*r.NormFloat64()))
		rise := m.rise / 0.8
		pulses = append(pulses, pulse{t, h, rise, (m.width - rise/2) / math.Ln2})
		peaks = append(peaks, t)
		t += math.Max(0.1, m.interval*math.Exp(0.25*r.NormFloat64()))
	}
	k := 0
	for n := 0; float64(n)*0.002 < t+1; n++ {
		at := float64(n) * 0.002
		for k+1 < len(pulses) && at > pulses[k+1].at-0.05 {
			k++
		}
		x, v := pulses[k], m.before
		switch d := at - x.at; {
		case d > -x.rise && d <= 0:
			v += (x.height - m.before) * (1 + d/x.rise)
		case d > 0 && d < 6*x.tau:
			v += (x.height - m.before) * math.Exp(-d/x.tau)
		case d >= 6*x.tau && d < 6*x.tau+0.03:
			v = m.low // the head falls below after the blow
		}
		v = math.Round((v+0.13*r.NormFloat64())*1000) / 1000
		p.T, p.V = append(p.T, at), append(p.V, v)
		if r.Float64() < m.repeatedS { // the logger repeats a stamp and its reading
			p.T, p.V = append(p.T, at), append(p.V, v)
		}
	}
	return p, peaks
}

// TestSlamsOfMeasuredRecords: of the slams in records made from the measured statistics at
// least 98 % are found, and fewer than 2 % of what is found is none.
func TestSlamsOfMeasuredRecords(t *testing.T) {
	found, all, wrong := 0, 0, 0
	for i, m := range records {
		p, peaks := m.made(uint64(i) + 1)
		got := Analyze(p, Facts{}, Options{LeastM: 10}).Slams
		used := make([]bool, len(got))
		for _, at := range peaks {
			for k := range got {
				if !used[k] && math.Abs(float64(got[k].AtNS)*nanosecond-at) < 0.01 {
					used[k] = true
					found++
					break
				}
			}
		}
		for _, u := range used {
			if !u {
				wrong++
			}
		}
		all += len(peaks)
	}
	t.Logf("%d of %d found, %d false", found, all, wrong)
	if float64(found) < 0.98*float64(all) || float64(wrong) > 0.02*float64(all) {
		t.Errorf("%d of %d slams found, %d false", found, all, wrong)
	}
}
