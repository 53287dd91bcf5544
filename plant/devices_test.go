package plant

import (
	"math"
	"strings"
	"testing"
)

// withDevice is the study station, whose main falls to vapor pressure at its high end, with
// devices.
func withDevice(t *testing.T, devices string) *Plant {
	t.Helper()
	return plantOf(t, "study", "  air_vessel: none\n", "  devices:\n"+devices)
}

const everyPump = "power-failure-low"

func TestDevicesAreRun(t *testing.T) {
	bare := stopped(t, plantOf(t, "study"), "flap/6in", everyPump, Options{Record: true})
	if !bare.Separates() {
		t.Fatal("the station without devices should fall to vapor pressure")
	}
	start := stopped(t, plantOf(t, "study"), "flap/6in", "start-low", Options{Record: true})
	for _, c := range []struct {
		name, devices, event, note string
		holds                      func(s *Stop) bool
	}{
		{
			"an air vessel at the header keeps the main from vapor pressure",
			"    - {kind: air vessel, air_volume: 300 gal}\n", everyPump, "its air swells from 300 gal",
			func(s *Stop) bool { return !s.Separates() },
		},
		{
			"an air vessel far out does so too",
			"    - {kind: air vessel, at: 2400 ft, air_volume: 300 gal, connection: 4 in}\n", everyPump,
			"2400 ft from the station: its air swells",
			func(s *Stop) bool { return s.LeastPressureM() > bare.LeastPressureM() },
		},
		{
			"an air valve lets air in where the main would boil",
			"    - {kind: air valve, at: 2500 ft, inlet: 3 in, outlet: 0.2 in}\n", everyPump, "of air at most", func(s *Stop) bool {
				return pointAt(s, 2500*0.3048).LeastM-pointAt(s, 2500*0.3048).ElevationM > bare.VaporM+5
			},
		},
		{
			"a wide stand-pipe holds its head", "    - {kind: stand-pipe, at: 1500 ft, bore: 8 ft}\n", everyPump,
			"does not spill", func(s *Stop) bool {
				e := pointAt(s, 1500*0.3048)
				return e.StartM-e.LeastM < 0.2*(pointAt(bare, 1500*0.3048).StartM-pointAt(bare, 1500*0.3048).LeastM)
			},
		},
		{
			"a relief valve takes the top off a start", "    - {kind: relief valve, opens_at: 28 psi, bore: 4 in}\n",
			"start-low", "opens and lets out",
			func(s *Stop) bool { return s.MostPressureM() < start.MostPressureM()-0.3 },
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := stopped(t, withDevice(t, c.devices), "flap/6in", c.event, Options{Record: true})
			if s.Fault != "" {
				t.Fatal(s.Fault)
			}
			if !c.holds(s) {
				t.Errorf("it does not: least %.2f m, greatest %.2f m (without: %.2f, %.2f)", s.LeastPressureM(),
					s.MostPressureM(), bare.LeastPressureM(), start.MostPressureM())
			}
			if all := strings.Join(s.Notes, "\n"); !strings.Contains(all, c.note) {
				t.Errorf("no note says %q:\n%s", c.note, all)
			}
		})
	}
}

// pointAt is the point of the main at a chainage.
func pointAt(s *Stop, chainageM float64) EnvelopePoint {
	best := s.Envelope[0]
	for _, e := range s.Envelope {
		if math.Abs(e.ChainageM-chainageM) < math.Abs(best.ChainageM-chainageM) {
			best = e
		}
	}
	return best
}

// A shaft as thin as a gauge tube takes no water: the cut in the main that it makes changes
// nothing, in stops whose valve closes before vapor forms.
func TestCutChangesNothing(t *testing.T) {
	for _, event := range []string{"one-trips-low", "one-trips-high"} {
		bare := stopped(t, plantOf(t, "study"), "ball-pocket/6in", event, Options{})
		cut := stopped(t, withDevice(t, "    - {kind: stand-pipe, at: 1200 ft, bore: 0.1 mm}\n"), "ball-pocket/6in",
			event, Options{})
		if a, b := bare.SlamMS(), cut.SlamMS(); math.Abs(a-b) > 0.01*a {
			t.Errorf("%s: reverse velocity %.4g with the cut, %.4g without", event, b, a)
		}
	}
}

// The same vessel as a what-if and in the station file.
func TestVesselOfFileAndWhatIf(t *testing.T) {
	given := stopped(t, withDevice(t, "    - {kind: air vessel, air_volume: 1 m3}\n"), "flap/6in", "one-trips-high",
		Options{})
	tried := stopped(t, plantOf(t, "study"), "flap/6in", "one-trips-high", Options{Change: Change{VesselM3: 1}})
	if given.SlamMS() != tried.SlamMS() || given.MostM() != tried.MostM() {
		t.Errorf("in the file %.6g m/s and %.6g m, tried %.6g m/s and %.6g m", given.SlamMS(), given.MostM(),
			tried.SlamMS(), tried.MostM())
	}
}

// A device that would act in normal flow leaves no run, and says why.
func TestDevicesAtWorkBefore(t *testing.T) {
	for devices, want := range map[string]string{
		"    - {kind: relief valve, opens_at: 10 psi, bore: 4 in}\n":      "opens at 10.0 psi, but the pressure there is",
		"    - {kind: stand-pipe, at: 1000 ft, bore: 3 ft, top: 30 ft}\n": "spills before the event",
	} {
		p := withDevice(t, devices)
		for _, ev := range p.Events() {
			if ev.ID != "one-trips-high" {
				continue
			}
			s, err := p.Run(t.Context(), fit1(t, p, "flap/6in").mech, ev, Options{})
			if err != nil || !strings.Contains(s.Fault, want) {
				t.Errorf("%s: %v %q, want %q", devices, err, s.Fault, want)
			}
		}
	}
}

func TestDeviceRangesAreDrawn(t *testing.T) {
	p := withDevice(t, "    - {kind: relief valve, opens_at: 60..70 psi, bore: 4 in}\n")
	var names []string
	for _, a := range p.stationAxes() {
		names = append(names, a.name)
	}
	all := strings.Join(names, "; ")
	for _, want := range []string{
		"opening pressure of relief valve 1", "discharge coefficient of relief valve 1",
		"full-open pressure of relief valve 1",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among what is drawn: %s", want, all)
		}
	}
}
