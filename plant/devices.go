package plant

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/pipe"
	"seatward/quantity"
	"seatward/station"
	"seatward/transient"
)

// device is a surge device of the station where it stands in a run.
type device struct {
	station.Device
	chainageM float64 // on the grid
	boundary  transient.Boundary
}

// place is a node of the grid at which a device may stand: the header, or inside a run of
// the main, where a cut leaves whole reaches before it.
type place struct {
	run           int
	alongM, fromM float64 // of the run, and of the main
}

// places lists them in the direction of flow.
func (b *builder) places(line station.Line) []place {
	out := []place{{}}
	start := 0.0
	for i, r := range line.Runs {
		reach := b.stepS * r.WaveSpeed.SI
		for n := 1; float64(n)*reach < r.Length.SI-reach/2; n++ {
			out = append(out, place{i, float64(n) * reach, start + float64(n)*reach})
		}
		start += r.Length.SI
	}
	return out
}

// cut puts every device at the nearest free place, and cuts the runs of the line there. The
// device before run i of the new line is at[i].
func (b *builder) cut(line station.Line) (station.Line, map[int]*device, error) {
	devices := b.stations()
	at := map[int]*device{}
	if len(devices) == 0 {
		return line, at, nil
	}
	length := line.LengthM()
	free := b.places(line)
	taken := map[int]*device{}
	for _, d := range devices {
		if d.At.SI >= length {
			b.out.devices = append(b.out.devices, d)
			continue // beyond the high point at which the main is followed no further
		}
		best := -1
		for i, p := range free {
			if taken[i] == nil && (best < 0 || math.Abs(p.fromM-d.At.SI) < math.Abs(free[best].fromM-d.At.SI)) {
				best = i
			}
		}
		if best < 0 {
			return line, nil, fmt.Errorf("no room on the grid of the run for %s", d.Name)
		}
		d.chainageM = free[best].fromM
		taken[best] = d
		b.out.devices = append(b.out.devices, d)
	}
	var runs []station.Run
	for i, r := range line.Runs {
		done := 0.0
		for k, p := range free {
			if d := taken[k]; d != nil && p.run == i {
				if p.alongM > 0 {
					runs = append(runs, part(r, done, p.alongM))
				}
				done, at[len(runs)] = p.alongM, d
			}
		}
		runs = append(runs, part(r, done, r.Length.SI))
	}
	line.Runs = runs
	return line, at, nil
}

// part is the run between two places along it.
func part(r station.Run, fromM, toM float64) station.Run {
	share := (toM - fromM) / r.Length.SI
	r.Length.SI, r.Loss.SI = toM-fromM, share*r.Loss.SI
	return r
}

// stations are the devices of the station, with the air that a what-if adds at the header:
// to the vessel there, or in one of its own, which goes first.
func (b *builder) stations() []*device {
	var out []*device
	added := b.change.VesselM3
	for _, d := range b.st.Surge.Devices {
		if station.AtHeader(d) {
			d.AirVolume.SI += added
			added = 0
		}
		out = append(out, &device{Device: d})
	}
	if added > 0 {
		d := station.Device{Kind: station.AirVessel, Name: "air vessel at the header"}
		d.AirVolume.SI = added
		out = slices.Insert(out, 0, &device{Device: d})
	}
	return out
}

// deviceAxes lists what is uncertain of the devices.
func deviceAxes(st *station.Station) []axis {
	var out []axis
	for i := range st.Surge.Devices {
		for _, of := range []func(d *station.Device) *basis.Value{
			func(d *station.Device) *basis.Value { return &d.AirVolume },
			func(d *station.Device) *basis.Value { return &d.PolytropicExponent },
			func(d *station.Device) *basis.Value { return &d.Loss },
			func(d *station.Device) *basis.Value { return &d.Discharge },
			func(d *station.Device) *basis.Value { return &d.OpensAt },
			func(d *station.Device) *basis.Value { return &d.FullOpenAt },
			func(d *station.Device) *basis.Value { return &d.ClosingTime },
		} {
			v := *of(&st.Surge.Devices[i])
			out = append(out, axis{name: v.Name, value: v, set: func(st *station.Station, x float64) *station.Station {
				of(&st.Surge.Devices[i]).SI = x
				return st
			}})
		}
	}
	return slices.DeleteFunc(out, func(a axis) bool { return !a.value.Ranged() })
}

// held is true where a device stands at the header.
func (b *builder) held() bool {
	here := func(d station.Device) bool { return d.At.SI == 0 }
	return b.change.VesselM3 > 0 || slices.ContainsFunc(b.st.Surge.Devices, here)
}

// stand makes the boundary of a device at a node with the steady head.
func (b *builder) stand(d *device, headM float64) error {
	st, axis := b.st, b.st.AxisAt(d.chainageM)
	perM := st.Fluid.Density.SI * quantity.StandardGravity
	switch d.Kind {
	case station.AirVessel:
		v := &transient.AirVessel{
			VolumeM3: d.AirVolume.SI, Exponent: d.PolytropicExponent.SI,
			AirHeadM: b.plant.gas().ReferenceHeadM, ElevationM: axis,
		}
		if d.Connection.Known() {
			area := pipe.AreaM2(d.Connection.SI)
			v.InS2M5 = d.Loss.SI / (2 * quantity.StandardGravity * area * area)
			v.OutS2M5 = v.InS2M5
		}
		d.boundary = v
	case station.AirValve:
		if headM < axis {
			return fmt.Errorf("%s stands below the pressure of the air before the event: it would draw air all the time", d.Name)
		}
		d.boundary = &transient.AirValve{
			ElevationM: axis, InCdAM2: d.Discharge.SI * pipe.AreaM2(d.Inlet.SI),
			OutCdAM2: d.Discharge.SI * pipe.AreaM2(d.Outlet.SI),
			AirPa:    st.Site.AirPressure.SI, AirK: st.Fluid.Temperature.SI, DensityKgM3: st.Fluid.Density.SI,
		}
	case station.ReliefValve:
		v := &transient.ReliefValve{
			SetM: axis + d.OpensAt.SI/perM, FullM: axis + d.FullOpenAt.SI/perM, OutsideM: axis,
			CdAM2: d.Discharge.SI * pipe.AreaM2(d.Bore.SI), CloseS: d.ClosingTime.SI,
		}
		if headM > v.SetM {
			return fmt.Errorf("%s opens at %s, but the pressure there is %s before the event", d.Name,
				st.Units.Format(quantity.Pressure, d.OpensAt.SI), st.Units.Format(quantity.Pressure, (headM-axis)*perM))
		}
		d.boundary = v
	case station.StandPipe:
		v := &transient.StandPipe{AreaM2: pipe.AreaM2(d.Bore.SI), Spills: d.Top.Known()}
		if v.Spills {
			v.TopM = st.AboveDatum(d.Top.SI)
		}
		if v.Spills && headM > v.TopM {
			return fmt.Errorf("%s spills before the event: the head line stands above its top", d.Name)
		}
		d.boundary = v
	}
	return nil
}

// says is what a device did in the run, in a sentence.
func (d *device) says(st *station.Station) string {
	show := st.Units.Format
	at := "at the header"
	if d.chainageM > 0 {
		at = show(quantity.Length, d.chainageM) + " from the station"
	}
	switch b := d.boundary.(type) {
	case *transient.AirVessel:
		return fmt.Sprintf("%s, %s: its air swells from %s to %s at most.", capital(d.Name), at,
			show(quantity.Volume, d.AirVolume.SI), show(quantity.Volume, b.GreatestM3()))
	case *transient.AirValve:
		if b.AirMostM3 == 0 {
			return fmt.Sprintf("%s, %s: lets no air in.", capital(d.Name), at)
		}
		text := fmt.Sprintf("%s, %s: lets in %s of air at most", capital(d.Name), at,
			show(quantity.Volume, b.AirMostM3))
		if b.SlamHeadM != 0 {
			axis := st.AxisAt(d.chainageM)
			return text + fmt.Sprintf("; as the last of it leaves the pressure head there is %s.",
				show(quantity.Head, b.SlamHeadM-axis))
		}
		return text + "; some of it is still in the pipe at the end of the run."
	case *transient.ReliefValve:
		if b.Spilt == 0 {
			return fmt.Sprintf("%s, %s: does not open.", capital(d.Name), at)
		}
		return fmt.Sprintf("%s, %s: opens and lets out %s.", capital(d.Name), at, show(quantity.Volume, b.Spilt))
	case *transient.StandPipe:
		if b.Spilt() {
			return fmt.Sprintf("%s, %s: spills at its top.", capital(d.Name), at)
		}
		return fmt.Sprintf("%s, %s: does not spill.", capital(d.Name), at)
	}
	return fmt.Sprintf("%s is not in the run: it stands beyond the high point up to which the main is followed.",
		capital(d.Name))
}

func capital(name string) string {
	if name[0] >= 'a' && name[0] <= 'z' {
		return string(name[0]-'a'+'A') + name[1:]
	}
	return name
}
