package catalog

import (
	"fmt"
	"math"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/dimension"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// show prints a value as messages have it.
func show(v basis.Value) string { return quantity.SI.Format(v.Kind, v.SI) }

// written gives the places of an item's data; none where it was not read from a file.
func (it *Item) written() *SizeFile {
	if it.size == nil {
		return &SizeFile{}
	}
	return it.size
}

// whole tells the data that a user will miss.
func (k *checker) whole(it *Item) {
	var missing []string
	for _, d := range []struct {
		key string
		v   basis.Value
	}{
		{"face_to_face", it.FaceToFace},
		{"mass", it.Mass},
		{"cover_clearance", it.Clearance},
		{"passage", it.Passage},
		{"flow_coefficient", it.FlowCoefficient},
		{"element_mass", it.ElementMass},
	} {
		if !d.v.Known() {
			missing = append(missing, d.key)
		}
	}
	if len(missing) > 0 {
		k.add(it, finding{
			severity: diag.Warning, id: "data-missing", text: "no " + strings.Join(missing, ", "),
			expected: "data by which the valve can be judged and placed", mend: "add them if the maker tells them",
		})
	}
}

// massSpread is how far masses of one thing may differ.
const massSpread = 0.1

func (k *checker) masses(it *Item) {
	w := it.written()
	if it.Mass.Known() && it.ElementMass.Known() && it.ElementMass.SI+it.CoverMass.SI >= it.Mass.SI {
		k.add(it, finding{
			at: w.Mass.At, id: "mass-of-parts",
			text: fmt.Sprintf("element and cover weigh %.3g kg, as much as the whole valve",
				it.ElementMass.SI+it.CoverMass.SI), expected: "less than " + show(it.Mass), mend: "check the masses",
		})
	}
	if !w.Element.Set {
		return
	}
	moving, key := it.ballMass("mass of the ball by its diameter and density"), "ball_density"
	for _, name := range movingMass {
		if v, said := it.Params[name]; said {
			moving, key = v, name
		}
	}
	if moving.Known() && math.Abs(it.ElementMass.SI-moving.SI) > massSpread*moving.SI {
		k.add(it, finding{
			at: w.Element.At, id: "element-mass",
			text: fmt.Sprintf("the element weighs %s, but the mechanics (%s) make %s", show(it.ElementMass), key,
				show(moving)), expected: "within 10%", mend: "mend one of them, or leave element_mass out",
		})
	}
}

// clearPassage is the share of the bore that a full-bore valve passes: disc and arm do
// not swing out of the last of it.
const clearPassage = 0.9

func (k *checker) bores(it *Item) {
	w := it.written()
	nominal := it.Size.NominalM()
	switch {
	case math.Abs(it.Bore.SI-nominal) > 0.25*nominal:
		k.add(it, finding{
			at: w.Bore.At, id: "bore-and-size",
			text: "the bore " + show(it.Bore) + " is far from the size " +
				it.Size.String(), expected: "within a quarter", mend: "mend size or bore",
		})
	case !it.Passage.Known():
	case it.Passage.SI > it.Bore.SI*1.001:
		k.add(it, finding{
			at: w.Passage.At, id: "passage-above-bore",
			text: "a sphere of " + show(it.Passage) +
				" is said to pass, larger than the bore", expected: "at most the bore, " +
				show(it.Bore), mend: "mend passage or bore",
		})
	case it.Family.FullBore && it.Passage.SI < clearPassage*it.Bore.SI:
		k.add(it, finding{
			at: w.Passage.At, id: "not-full-bore",
			text: "the family is full-bore, but a sphere of " + show(it.Passage) +
				" is all that passes", expected: "nearly the bore, " + show(it.Bore), mend: "mend full_bore or passage",
		})
	}
}

// length holds the face-to-face length to the standard that the family claims.
func (k *checker) length(it *Item) {
	standard, fixed := dimension.LengthOf(it.Family.LengthStandard, it.Size)
	if !fixed || !it.FaceToFace.Known() ||
		(it.FaceToFace.SI >= standard.Low-1e-6 && it.FaceToFace.SI <= standard.High+1e-6) {
		return
	}
	f := finding{
		at: it.written().FaceToFace.At, id: "face-to-face",
		text: fmt.Sprintf("the length %s is not that of %s", show(it.FaceToFace), it.Family.LengthStandard),
		expected: fmt.Sprintf("%s, ±%.1f mm, by %s", show(standard), 1000*(standard.High-standard.SI),
			basis.Cite(standard.Source)), mend: "mend the length, or face_to_face_standard",
	}
	if !dimension.Sure(it.Family.LengthStandard, it.Size) {
		f.severity = diag.Warning
	}
	k.add(it, f)
}

// ratings holds the ratings of valve, ends and the ends' standards to each other.
func (k *checker) ratings(it *Item) {
	best, covered := basis.Value{}, len(it.Family.Ends) == 0
	for i, e := range it.Family.Ends {
		if !e.Covers(it.Size) {
			continue
		}
		covered = true
		if e.Rating.Known() && e.Rating.SI > best.SI {
			best = e.Rating
		}
		if most, known := StandardRating(e.Standard, it.Size); known && e.Rating.Known() &&
			e.Rating.SI > most.SI*1.005 {
			k.add(it, finding{
				at: endPlace(it, i), id: "end-rating",
				text: fmt.Sprintf("the ends %s are said to hold %s in this size", e.Standard,
					show(e.Rating)), expected: "at most " + show(most) + ", by " + basis.Cite(most.Source),
				mend: "mend the rating, or the span of sizes",
			})
		}
	}
	if !covered {
		k.add(it, finding{
			id: "no-ends", text: "no ends are offered in this size",
			expected: "an entry of ends that spans it", mend: "widen from and to of an entry of ends",
		})
	}
	if best.Known() && it.Rating.Known() && it.Rating.SI > best.SI*1.005 {
		k.add(it, finding{
			at: it.written().Rating.At, id: "rating-above-ends",
			text: fmt.Sprintf("the valve is rated %s, but none of its ends holds more than %s", show(it.Rating),
				show(best)), expected: "a rating that the ends hold", mend: "mend the rating, or the ends",
		})
	}
}

func endPlace(it *Item, i int) (at yamlfile.At) {
	if it.Family.file != nil {
		at = it.Family.file.Ends[i].Rating.At
	}
	return at
}

// trend is a datum that grows with the size.
type trend struct {
	key string
	of  func(it *Item) basis.Value
	at  func(s *SizeFile) yamlfile.At
}

var trends = []trend{
	{"bore", func(it *Item) basis.Value { return it.Bore }, func(s *SizeFile) yamlfile.At { return s.Bore.At }},
	{"mass", func(it *Item) basis.Value { return it.Mass }, func(s *SizeFile) yamlfile.At { return s.Mass.At }},
	{
		"face_to_face", func(it *Item) basis.Value { return it.FaceToFace },
		func(s *SizeFile) yamlfile.At { return s.FaceToFace.At },
	},
	{
		"element_mass", func(it *Item) basis.Value { return it.ElementMass },
		func(s *SizeFile) yamlfile.At { return s.Element.At },
	},
	{
		"cover_mass", func(it *Item) basis.Value { return it.CoverMass },
		func(s *SizeFile) yamlfile.At { return s.Cover.At },
	},
	{
		"flow_coefficient", func(it *Item) basis.Value { return it.FlowCoefficient },
		func(s *SizeFile) yamlfile.At { return s.Flow.At },
	},
	{"price", func(it *Item) basis.Value { return it.Price }, func(s *SizeFile) yamlfile.At { return s.Price.At }},
}

// growth bounds the power of the bore with which the mass of a valve grows: 1 would be a
// tube of one wall, 3 the same shape throughout; sizes next to each other scatter.
var growth = [2]float64{0.8, 4.5}

// trends holds masses, lengths, flow coefficients and prices to rise with the size.
func (k *checker) trends(f *Family) {
	last := map[string]*Item{}
	for _, it := range f.Items {
		before := last[it.Variant]
		last[it.Variant] = it
		if before == nil {
			continue
		}
		for _, t := range trends {
			a, b := t.of(before), t.of(it)
			if a.Known() && b.Known() && b.SI < a.SI*0.999 {
				k.add(it, finding{
					at: t.at(it.written()), id: "falls-with-size",
					text: fmt.Sprintf("%s is %s, less than the %s of %s", t.key, show(b), show(a),
						before.Size), expected: "no less than the next smaller size", mend: "check both sizes",
				})
			}
		}
		if before.Mass.Known() && it.Mass.Known() && it.Mass.SI > before.Mass.SI && it.Bore.SI > before.Bore.SI {
			power := math.Log(it.Mass.SI/before.Mass.SI) / math.Log(it.Bore.SI/before.Bore.SI)
			if power < growth[0] || power > growth[1] {
				k.add(it, finding{
					at: it.written().Mass.At, severity: diag.Warning, id: "mass-scaling",
					text: fmt.Sprintf("from %s on the mass grows with the power %.1f of the bore", before.Size,
						power), expected: fmt.Sprintf("a power of %.1f to %.1f", growth[0], growth[1]),
					mend: "check both masses",
				})
			}
		}
	}
}
