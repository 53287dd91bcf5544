package text

import (
	"io"

	"seatward/internal/chart"
)

// Calibrated prints a station fitted to logged stops: the stops, what each number is after them,
// and what they cannot hold apart.
func Calibrated(w io.Writer, x *chart.Calibration, opt Options) error {
	p := newPage(opt)
	p.para("", Clean(x.About()))
	if x.Poor {
		p.gap()
		p.item(rust, "", "!", chart.PoorFit+" Look at the picture (--svg), and name --event, --valve or --at-header.")
	}
	p.heading("STOPS")
	for i := range x.Stops {
		s := &x.Stops[i]
		p.put("  " + Clean(s.File) + ", " + s.When)
		p.para("    ", s.Said(s.Event, opt.Units))
	}
	p.heading("NUMBERS")
	p.calibrationNumbers(x)
	if len(x.Alike) > 0 {
		p.heading("HELD TOGETHER")
		for _, a := range x.Alike {
			p.item(amber, "", "~", a.Said())
		}
	}
	p.heading("CLOSING CURVE")
	if x.NoCurve != "" {
		p.para("", sentenceStart(x.NoCurve)+".")
	}
	for _, c := range x.Curve {
		p.para("  ", c.Said(opt.Units))
	}
	for _, n := range x.Notes {
		p.gap()
		p.item(faint, "", "-", Clean(n))
	}
	p.heading("CAUTIONS")
	p.para("", chart.CalibrationCautions)
	return p.flush(w)
}

func (p *page) calibrationNumbers(x *chart.Calibration) {
	t := &table{indent: "  "}
	for i, head := range chart.NumberHeads() {
		t.cols = append(t.cols, column{head: head, gives: i == 0, right: i > 0})
	}
	rows, rest := x.NumberRows(p.opt.Units)
	for _, r := range rows {
		r[0] = Clean(r[0])
		t.add(r...)
	}
	p.table(t)
	if rest > 0 {
		p.paraIn(faint, "", chart.RestSaid(rest)+"; they are in --json.")
	}
}
