package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/internal/chart"
	"seatward/internal/document"
	"seatward/internal/render/markup"
	"seatward/internal/render/text"
	"seatward/judge"
	"seatward/quantity"
)

// A reverse velocity in a sentence, and the likely interval that may follow it. Those of hand
// formulas and of single seatings on a time line are no claims of the answer.
var (
	reverseSaid = regexp.MustCompile(`(?i)reverse velocity:? \|? ?(\d[\d.]*) (ft/s|m/s)(?: \(median\))?(?:, likely (\d[\d.]*) to (\d[\d.]*) (?:ft/s|m/s))?`)
	noClaim     = regexp.MustCompile(`(?i)(by hand formulas: |closes, |closes again, |closes again, hardest, )$`)
)

// units are those of a velocity as texts write it.
var units = map[string]quantity.System{"ft/s": quantity.US, "m/s": quantity.SI}

// otherNumbers are what a text says of the slam that is not the record's number to the last
// digit: the sentences, and how many were read.
func otherNumbers(said string, s *judge.Slam) (wrong []string, read int) {
	said = strings.Join(strings.Fields(said), " ")
	for _, m := range reverseSaid.FindAllStringSubmatchIndex(said, -1) {
		if noClaim.MatchString(said[max(0, m[0]-40):m[0]]) {
			continue
		}
		read++
		part := func(i int) string {
			if m[2*i] < 0 {
				return ""
			}
			return said[m[2*i]:m[2*i+1]]
		}
		sys := units[part(2)]
		number := func(ms float64) string { return sys.Number(quantity.Velocity, ms) }
		v := s.ReverseVelocity
		right := part(1) == number(v.SI) || s.Lucky && part(1) == number(s.MedianMS)
		if part(3) != "" {
			right = right && part(3) == number(v.Low) && part(4) == number(v.High)
		}
		if !right {
			wrong = append(wrong, part(0))
		}
	}
	return wrong, read
}

// words holds every reverse velocity of a text to the record.
func (e *everywhere) words(where, said string) {
	e.t.Helper()
	wrong, read := otherNumbers(said, &e.want.Slam)
	e.claims += read
	v := e.want.Slam.ReverseVelocity
	for _, w := range wrong {
		e.t.Errorf("%s: %s says %q, the record %g m/s, %g to %g m/s, median %g m/s", e.id, where, w, v.SI, v.Low,
			v.High, e.want.Slam.MedianMS)
	}
}

// papers holds the sentences and the numbers of every document.
func (e *everywhere) papers(d *document.Dossier) {
	for _, k := range document.Kinds() {
		made := d.Make(k)
		for path, want := range map[string]float64{
			e.id + " reverse_velocity": e.want.Slam.ReverseVelocity.SI,
			e.id + " head_rise":        e.want.Slam.HeadRise.SI,
		} {
			for _, q := range made.Quotes {
				if q.Path == path && q.SI != want && q.SI != e.want.Slam.MedianMS {
					e.t.Errorf("%s: %s shows %s = %.17g, the record %.17g", e.id, k.ID, path, q.SI, want)
				}
			}
		}
		var out bytes.Buffer
		if _, err := markup.Markdown(&out, made, k.ID); err != nil {
			e.t.Fatal(err)
		}
		e.words(k.ID, out.String())
	}
}

// terminal holds what the commands print.
func (e *everywhere) terminal(d *document.Dossier) {
	for _, sys := range []quantity.System{quantity.US, quantity.SI} {
		opt := text.Options{Units: sys, All: true}
		var out bytes.Buffer
		must := func(err error) {
			if err != nil {
				e.t.Fatal(err)
			}
		}
		must(text.Select(&out, e.study, opt))
		must(text.Valve(&out, e.study, opt))
		must(text.Trip(&out, d.Trip, opt))
		if c, err := chart.NewClosing(d.Valve, chart.Stop{Run: chart.RunOf(d.Valve), RatesMS2: []float64{1, 5}},
			sys); err == nil {
			must(text.Closing(&out, d.Valve, c, opt))
		}
		if v, ok := e.study.Value(e.id + " reverse_velocity"); ok {
			must(text.Explain(&out, e.id+" reverse_velocity", v, opt))
			out.WriteString("\nreverse velocity " + v.Format(sys) + "\n")
		}
		e.words("the terminal", out.String())
	}
}

// TestOtherNumbers shows that a number in another rounding is found.
func TestOtherNumbers(t *testing.T) {
	s := &judge.Slam{Lucky: true, MedianMS: 0.2}
	s.ReverseVelocity = basis.NewSimulated("reverse velocity", quantity.Velocity, 0.1634, "").WithRange(0.1, 0.5)
	for _, tt := range []struct {
		said        string
		wrong, read int
	}{
		{"Worst stop: x. Reverse velocity 0.16 m/s, likely 0.10 to 0.50 m/s: quiet.", 0, 1},
		{"Reverse velocity 0.163 m/s", 1, 1},
		{"| Reverse velocity | 0.54 ft/s, likely\n 0.33 to 1.64 ft/s |", 0, 1},
		{"reverse velocity 0.20 m/s (median), likely 0.10 to 0.50 m/s", 0, 1},
		{"reverse velocity 0.16 m/s, likely 0.1 to 0.50 m/s", 1, 1},
		{"By hand formulas: reverse velocity 1.02 m/s. The valve closes, reverse velocity 0.07 m/s.", 0, 0},
	} {
		wrong, read := otherNumbers(tt.said, s)
		if len(wrong) != tt.wrong || read != tt.read {
			t.Errorf("%q: %d wrong of %d", tt.said, len(wrong), read)
		}
	}
}
