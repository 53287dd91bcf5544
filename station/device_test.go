package station

import (
	"os"
	"strings"
	"testing"

	"seatward/basis"
)

const deviceBase = `
station: Gull Point lift station
valve: {size: 6 in, position: horizontal}
fluid: {kind: raw sewage}
duty: {flow: 500 gpm, head: 60 ft, static_head: 40 ft}
main: {runs: [{material: PVC, class: DR18, size: 8 in, length: 2000 ft}]}
surge:
  devices:
`

func TestDevices(t *testing.T) {
	st, list := Load("d.yaml", []byte(deviceBase+`
    - {kind: air vessel, name: V-1, air_volume: 200 gal, connection: 6 in}
    - {kind: air vessel, at: 100 ft, air_volume: 50 gal}
    - {kind: air valve, at: 900 ft, inlet: 3 in, outlet: 0.25 in}
    - {kind: relief valve, opens_at: 60 psi, bore: 4 in, closing_time: 20 s}
    - {kind: stand-pipe, at: 1500 ft, bore: 4 ft, top: 60 ft}
`))
	if st == nil {
		t.Fatal(list)
	}
	if n := len(st.Surge.Devices); n != 5 {
		t.Fatalf("%d devices", n)
	}
	d := st.Surge.Devices
	if d[0].Name != "V-1" || d[1].Name != "air vessel 2" || d[2].Name != "air valve 1" {
		t.Errorf("named %q, %q, %q", d[0].Name, d[1].Name, d[2].Name)
	}
	if !st.HasVessel() {
		t.Error("a vessel at the header holds it")
	}
	if !d[0].Loss.Known() || d[1].Loss.Known() {
		t.Error("a loss without a connection came from nowhere")
	}
	assumed := map[string]bool{}
	Walk(st, func(_ string, v basis.Value) {
		if v.Origin == basis.Assumed {
			assumed[v.Name] = true
		}
	})
	for _, want := range []string{
		"polytropic exponent of V-1", "loss coefficient of the connection of V-1",
		"discharge coefficient of air valve 1",
		"discharge coefficient of relief valve 1", "full-open pressure of relief valve 1",
	} {
		if !assumed[want] {
			t.Errorf("%q is not listed as assumed", want)
		}
	}
}

func TestDeviceFaults(t *testing.T) {
	for _, c := range []struct{ line, id, says string }{
		{"{kind: air vessel}", "device-key-missing", "an air vessel without air_volume"},
		{"{kind: air valve, inlet: 3 in}", "device-key-missing", "an air valve without outlet"},
		{"{kind: relief valve, opens_at: 60 psi}", "device-key-missing", "a relief valve without bore"},
		{"{kind: air vessel, opens_at: 60 psi}", "device-key-unused", "opens_at says nothing of an air vessel"},
		{"{kind: relief valve, opens_at: 60 psi, full_open_at: 50 psi, bore: 4 in}", "relief-order", "at or below"},
		{"{kind: stand-pipe, at: 2500 ft, bore: 3 ft}", "device-off-main", "2500 ft along a main of 2000 ft"},
		{"{at: 20 ft}", "", "kind"},
		{"{kind: siphon}", "", "siphon"},
	} {
		st, list := Load("d.yaml", []byte(deviceBase+"    - "+c.line+"\n"))
		if st != nil {
			t.Errorf("%s is taken", c.line)
			continue
		}
		m := list[0]
		for _, x := range list {
			if x.ID == c.id {
				m = x
			}
		}
		if c.id != "" && m.ID != c.id || !strings.Contains(m.Text+m.Expected, c.says) || m.Place.Line == 0 ||
			m.Mend == "" {
			t.Errorf("%s: %+v", c.line, m)
		}
	}
}

// The example of docs/surge.md is a station file's.
func TestDevicesOfTheDocs(t *testing.T) {
	text, err := os.ReadFile("../docs/surge.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "```yaml\nsurge:\n  devices:\n")
	devices, _, found := strings.Cut(rest, "```")
	base := strings.Replace(deviceBase, "2000 ft", "6000 ft", 1)
	if st, list := Load("docs/surge.md", []byte(base+devices)); st == nil || !found || len(st.Surge.Devices) != 4 {
		t.Error(list)
	}
}

// A vessel of which the file says no more than that it is there has its air assumed, and listed.
func TestVesselOfNoSize(t *testing.T) {
	words, _, _ := strings.Cut(deviceBase, "  devices:")
	st, list := Load("d.yaml", []byte(words+"  air_vessel: at the station\n"))
	if st == nil {
		t.Fatal(list)
	}
	if n := len(st.Surge.Devices); n != 1 || !st.HasVessel() {
		t.Fatalf("%d devices", n)
	}
	air := st.Surge.Devices[0].AirVolume
	if air.Origin != basis.Assumed || !air.Ranged() || air.SI != st.UsualAirM3() {
		t.Errorf("its air is %+v", air)
	}
	listed := false
	Walk(st, func(_ string, v basis.Value) { listed = listed || v.Name == air.Name })
	if !listed {
		t.Error("its air is not in the list of what is assumed")
	}
}
