package station

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/pipe"
	"seatward/quantity"
)

// Kinds of surge device, as a station file names them.
const (
	AirVessel   = "air vessel"
	AirValve    = "air valve"
	ReliefValve = "relief valve"
	StandPipe   = "stand-pipe"
)

// DeviceFile is one device on the main that limits surge.
type DeviceFile struct {
	yamlfile.At
	Kind       yamlfile.Word `yaml:"kind" need:"true" one:"air vessel|air valve|relief valve|stand-pipe" doc:"What it is"`
	Name       yamlfile.Word `yaml:"name" doc:"Name or tag"`
	Chainage   yamlfile.Q    `yaml:"at" kind:"length" min:"0" doc:"Chainage along the main; at the header where it is left out"`
	Air        yamlfile.Q    `yaml:"air_volume" kind:"volume" min:">0" max:"10000" doc:"Air in an air vessel while the pumps run"`
	Exponent   yamlfile.Num  `yaml:"polytropic_exponent" min:"1" max:"1.4" doc:"Of the air in an air vessel: 1 slow, 1.4 fast"`
	Connection yamlfile.Q    `yaml:"connection" kind:"diameter" min:">0" max:"3" doc:"Inner diameter of the pipe that connects an air vessel, for its loss"`
	Inlet      yamlfile.Q    `yaml:"inlet" kind:"diameter" min:">0" max:"1" doc:"Diameter of the opening through which an air valve lets air in"`
	Outlet     yamlfile.Q    `yaml:"outlet" kind:"diameter" min:"0" max:"1" doc:"Diameter of the opening through which it lets air out; 0 for a vacuum breaker"`
	Opens      yamlfile.Q    `yaml:"opens_at" kind:"pressure" min:">0" doc:"Pressure at which a relief valve begins to open"`
	Full       yamlfile.Q    `yaml:"full_open_at" kind:"pressure" min:">0" doc:"Pressure at which it is full open"`
	Bore       yamlfile.Q    `yaml:"bore" kind:"diameter" min:">0" max:"3" doc:"Diameter of the opening of a relief valve, or of a stand-pipe"`
	Closing    yamlfile.Q    `yaml:"closing_time" kind:"time" min:"0" max:"3600" doc:"Time in which a relief valve closes from full open"`
	Top        yamlfile.Q    `yaml:"top" kind:"length" doc:"Elevation at which a stand-pipe spills"`
}

// Device is one device on the main that limits surge. Values that its kind does not have
// are unknown.
type Device struct {
	Kind, Name         string
	At                 basis.Value // along the main; 0 at the header
	AirVolume          basis.Value // of an air vessel
	PolytropicExponent basis.Value
	Loss               basis.Value // of the vessel's connection, on its velocity head
	Connection         basis.Value // its diameter; unknown where none is given: then no loss is counted
	Inlet              basis.Value // of an air valve
	Outlet             basis.Value
	Discharge          basis.Value // coefficient of an opening
	OpensAt            basis.Value // of a relief valve, gauge
	FullOpenAt         basis.Value
	Bore               basis.Value // of a relief valve or stand-pipe
	ClosingTime        basis.Value
	Top                basis.Value // of a stand-pipe; unknown where it does not spill
}

// deviceKey is a key of a device: which kinds have it, and whether those must.
type deviceKey struct {
	key    string
	of     func(f *DeviceFile) yamlfile.At
	kinds  []string
	needed bool
}

var deviceKeys = []deviceKey{
	{"air_volume", func(f *DeviceFile) yamlfile.At { return f.Air.At }, []string{AirVessel}, true},
	{"polytropic_exponent", func(f *DeviceFile) yamlfile.At { return f.Exponent.At }, []string{AirVessel}, false},
	{"connection", func(f *DeviceFile) yamlfile.At { return f.Connection.At }, []string{AirVessel}, false},
	{"inlet", func(f *DeviceFile) yamlfile.At { return f.Inlet.At }, []string{AirValve}, true},
	{"outlet", func(f *DeviceFile) yamlfile.At { return f.Outlet.At }, []string{AirValve}, true},
	{"opens_at", func(f *DeviceFile) yamlfile.At { return f.Opens.At }, []string{ReliefValve}, true},
	{"full_open_at", func(f *DeviceFile) yamlfile.At { return f.Full.At }, []string{ReliefValve}, false},
	{"bore", func(f *DeviceFile) yamlfile.At { return f.Bore.At }, []string{ReliefValve, StandPipe}, true},
	{"closing_time", func(f *DeviceFile) yamlfile.At { return f.Closing.At }, []string{ReliefValve}, false},
	{"top", func(f *DeviceFile) yamlfile.At { return f.Top.At }, []string{StandPipe}, false},
}

// devices resolves the surge devices of the file.
func (r *resolver) devices() {
	seen := map[string]int{}
	for i := range r.f.Surge.Devices {
		f := &r.f.Surge.Devices[i]
		seen[f.Kind.Text]++
		name := f.Name.Text
		if !f.Name.Set {
			name = fmt.Sprintf("%s %d", f.Kind.Text, seen[f.Kind.Text])
		}
		if !r.deviceKeysFit(f) {
			continue
		}
		d := r.device(f, name)
		if length := r.st.Main.LengthM(); d.At.SI >= length && length > 0 {
			r.error(f.Chainage.At, "device-off-main",
				fmt.Sprintf("the %s stands %s along a main of %s", f.Kind.Text, r.show(quantity.Length, d.At.SI),
					r.show(quantity.Length, length)),
				"a chainage below the length of the main", "mend at, or the length of main.runs")
			continue
		}
		r.st.Surge.Devices = append(r.st.Surge.Devices, d)
	}
	if r.f.Surge.AirVessel.Text == "at the station" && !r.st.HasVessel() {
		r.st.Surge.Devices = append(r.st.Surge.Devices, r.vesselOfNoSize())
	}
}

// vesselOfNoSize is the vessel at the station of which the file says no more.
func (r *resolver) vesselOfNoSize() Device {
	const name = "air vessel at the header"
	return Device{
		Kind: AirVessel, Name: name, At: r.assume(defaults.atHeader, name),
		AirVolume:          r.assumeTimes(r.st.UsualAirM3(), defaults.vesselAir, name),
		PolytropicExponent: r.assume(defaults.vesselExponent, name),
	}
}

// HasVessel is true where an air vessel stands at the header.
func (st *Station) HasVessel() bool { return slices.ContainsFunc(st.Surge.Devices, AtHeader) }

// AtHeader is true for an air vessel beside the pumps.
func AtHeader(d Device) bool { return d.Kind == AirVessel && d.At.SI == 0 }

// The air of a vessel whose size is not given.
const (
	usualVessel = 0.02 // of the main's volume
	leastAirM3  = 0.05
)

// UsualAirM3 is the air of a vessel at the header whose size is not given, m³ (common practice,
// no source).
func (st *Station) UsualAirM3() float64 {
	air := 0.0
	for _, run := range st.Main.Runs {
		air += usualVessel * run.Length.SI * pipe.AreaM2(run.InnerDiameter.SI)
	}
	return math.Max(air, leastAirM3)
}

// deviceKeysFit tells of keys that the kind does not have, and of those that it lacks.
func (r *resolver) deviceKeysFit(f *DeviceFile) bool {
	fit := true
	for _, k := range deviceKeys {
		at, has := k.of(f), false
		for _, kind := range k.kinds {
			has = has || kind == f.Kind.Text
		}
		switch {
		case at.Set && !has:
			r.error(at, "device-key-unused", fmt.Sprintf("%s says nothing of %s %s", k.key, article(f.Kind.Text),
				f.Kind.Text), "a key of this kind of device", "remove it, or mend kind")
			fit = false
		case !at.Set && has && k.needed:
			r.error(f.At, "device-key-missing",
				fmt.Sprintf("%s %s without %s", article(f.Kind.Text), f.Kind.Text, k.key), k.key+
					": a value with its unit", "add "+k.key+"; see: seatward schema station")
			fit = false
		}
	}
	if fit && f.Full.Set && f.Full.SI() <= f.Opens.SI() {
		r.error(f.Full.At, "relief-order",
			"the relief valve is full open at or below the pressure at which it begins to open", "full_open_at above opens_at", "mend one of them")
		fit = false
	}
	return fit
}

func article(noun string) string {
	if noun[0] == 'a' {
		return "an"
	}
	return "a"
}

func (r *resolver) device(f *DeviceFile, name string) Device {
	assume := func(d fallback) basis.Value { return r.assume(d, name) }
	number := func(what string, in yamlfile.Num) basis.Value { return r.givenNumber(what+" of "+name, in) }
	given := func(what string, in yamlfile.Q) basis.Value { return r.given(what+" of "+name, in) }
	d := Device{
		Kind: f.Kind.Text, Name: name, At: or(given("chainage", f.Chainage), assume(defaults.atHeader)),
		AirVolume: given("air volume", f.Air), Connection: given("connection", f.Connection),
		Inlet: given("inlet", f.Inlet), Outlet: given("outlet", f.Outlet),
		OpensAt: given("opening pressure", f.Opens), Bore: given("bore", f.Bore), Top: given("top", f.Top),
	}
	switch d.Kind {
	case AirVessel:
		d.PolytropicExponent = or(number("polytropic exponent", f.Exponent), assume(defaults.vesselExponent))
		if d.Connection.Known() {
			d.Loss = assume(defaults.vesselLoss)
		}
	case AirValve:
		d.Discharge = assume(defaults.airDischarge)
	case ReliefValve:
		d.Discharge = assume(defaults.reliefDischarge)
		d.FullOpenAt = or(given("full-open pressure", f.Full), r.assumeTimes(d.OpensAt.SI, defaults.reliefFull, name))
		d.ClosingTime = or(given("closing time", f.Closing), assume(defaults.reliefClosing))
	}
	return d
}

// AxisAt is the axis of the main at a chainage, above the datum, m, straight between the
// points of the profile.
func (st *Station) AxisAt(chainageM float64) float64 {
	points, _ := st.Axis()
	at := points[0].ElevationM
	for i, p := range points {
		if i == 0 || p.ChainageM < chainageM {
			at = p.ElevationM
			continue
		}
		before := points[i-1]
		share := math.Max(0, chainageM-before.ChainageM) / (p.ChainageM - before.ChainageM)
		return before.ElevationM + share*(p.ElevationM-before.ElevationM)
	}
	return at
}
