package valve

import (
	"fmt"
	"math"
)

// The bounds by which Consistency judges. They are wide: it is meant to find a slip of
// the pen, a wrong unit, or a number of another valve.
const (
	handbookSpread = 2.0 // times the range that handbooks print for the type
	openingSpread  = 0.15
	thinnestShare  = 0.01 // thickness of a plate over its diameter
	thickestShare  = 0.2
)

// Consistency says where the numbers of a valve do not fit each other or its type: a
// force efficiency outside its range, a loss far from what handbooks print, a full-open
// velocity that the mechanics does not bear out, a swept length or a plate thickness
// that the type does not have. No notes means that nothing was found.
//
// The error is that of Build.
func (t *Type) Consistency(p Params) ([]Note, error) {
	full, err := t.Complete(p)
	if err != nil {
		return nil, err
	}
	v := t.reader(full.values())
	stated, velocity := v.ofAny("full_open_velocity")
	volume, massive := v.ofAny("displaced_volume")
	d, wide := v.ofAny("disc_diameter")
	m, err := t.assemble(v, testSetting(v))
	if err != nil {
		return nil, err
	}
	var notes []Note
	add := func(key, format string, args ...any) {
		notes = append(notes, Note{Key: key, Text: fmt.Sprintf(format, args...)})
	}
	for _, n := range m.Notes {
		if n.Key == "opening_efficiency" {
			notes = append(notes, n)
		}
	}
	open := m.FullOpenVelocity()
	if low, high := handbookRange(t.Key); high > 0 &&
		(open.Loss < low/handbookSpread || open.Loss > high*handbookSpread) {
		add("full_open_loss", "the loss coefficient at full opening is %.2f; handbooks have %.2f to %.2f for this type",
			open.Loss, low, high)
	}
	if velocity && math.Abs(open.VelocityMS/stated-1) > openingSpread {
		add("full_open_velocity", "rising flow opens it fully at %.2f m/s, not at the stated %.2f m/s: it closes harder part-way than at its stop", open.VelocityMS, stated)
	}
	if swept := m.SweptLengthM() / m.BoreM; swept < t.SweptBores[0] || swept > t.SweptBores[1] {
		add("stroke", "it sweeps %.2f bores of water; %.2f to %.2f is usual for this type", swept, t.SweptBores[0],
			t.SweptBores[1])
	}
	if massive && wide {
		if share := volume / (math.Pi / 4 * d * d * d); share < thinnestShare || share > thickestShare {
			add("displaced_volume", "the moving parts make a plate as thick as %.3f of its diameter; %.2f to %.2f is believable", share, thinnestShare, thickestShare)
		}
	}
	return notes, nil
}

// testSetting is where a valve of these values was tested, or usual is: cold water, and
// the stated inclination, or flow up for a ball that needs it.
func testSetting(v *Reader) Setting {
	s := Setting{DensityKgM3: 998.2}
	if inclination, ok := v.ofAny("reference_inclination"); ok {
		s.InclinationRad = inclination
	}
	if density, ok := v.ofAny("reference_density"); ok {
		s.DensityKgM3 = density
	}
	ball, ok := v.ofAny("ball_density")
	if _, caged := v.ofAny("chamber_diameter"); caged && ok {
		s.InclinationRad = math.Copysign(math.Pi/2, ball-s.DensityKgM3)
	}
	return s
}

// Unread lists the given numbers that nothing reads, because others stand in their place, in
// the order of the type's list: who gives them may believe that they count. What bears on
// later blows is taken as read. The error is that of Build.
func (t *Type) Unread(p Params) ([]string, error) {
	read := map[string]bool{}
	full, err := t.complete(p, read)
	if err != nil {
		return nil, err
	}
	v := t.reader(full.values())
	v.read = read
	if _, err := t.assemble(v, testSetting(v)); err != nil {
		return nil, err
	}
	var out []string
	for i := range t.Params {
		if _, given := p[t.Params[i].Key]; given && !read[t.Params[i].Key] {
			out = append(out, t.Params[i].Key)
		}
	}
	return out, nil
}
