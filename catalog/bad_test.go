package catalog

import (
	"strings"
	"testing"
)

// good is the catalog that the bad ones are edited from.
const good = `maker: Somebody
version: "1"
date: 2026-01-01
source: invented
licence: CC0-1.0
invented: yes
families:
  - id: own-swing
    title: Own swing
    type: swing
    services: [raw sewage]
    positions: [horizontal]
    full_bore: yes
    elastomers: [NBR]
    ends: [{standard: ASME B16.1 Class 125, from: 4 in, to: 8 in}]
    mechanics: {stroke_angle: 65 deg}
    sizes:
      - {size: 6 in, bore: 152 mm, mass: 70 kg, element_mass: 3.8 kg, rating: 200 psi, passage: 145 mm, face_to_face: 14 in, cover_clearance: 240 mm, mechanics: {disc_diameter: 167 mm, hinge_to_center: 95 mm, disc_mass: 3.8 kg, full_open_loss: 1.0, full_open_velocity: 1.36 m/s}}
      - {size: 8 in, bore: 203 mm, mass: 130 kg, element_mass: 8.3 kg, rating: 200 psi, passage: 193 mm, face_to_face: 19.5 in, cover_clearance: 320 mm, mechanics: {disc_diameter: 223 mm, hinge_to_center: 127 mm, disc_mass: 8.3 kg, full_open_loss: 1.0, full_open_velocity: 1.51 m/s}}
`

type edit struct{ name, from, to, id, place string }

var unreadable = []edit{
	{"unknown type", "type: swing", "type: swng", "type-unknown", ":10:11"},
	{"unusable id", "id: own-swing", "id: Own Swing", "id-unusable", ":8:9"},
	{"unknown mechanics", "stroke_angle", "stroke_angel", "mechanics-unknown", ":16:17"},
	{"wrong unit", "65 deg", "65 mm", "value-unreadable", ":16:31"},
	{"bare number", "65 deg", "65", "value-unreadable", ":16:31"},
	{"mechanics missing", ", disc_mass: 3.8 kg", "", "mechanics-unusable", ":18:16"},
	{"mechanics impossible", "hinge_to_center: 95 mm", "hinge_to_center: -95 mm", "mechanics-unusable", ":18:16"},
	{"no rating", "element_mass: 3.8 kg, rating: 200 psi", "element_mass: 3.8 kg", "key-missing", ":18:9"},
	{"negative bore", "bore: 152 mm", "bore: -152 mm", "value-out-of-range", ":18:28"},
	{"size that is none", "{size: 6 in", "{size: 7 in", "value-unreadable", ":18:16"},
	{"size twice", "{size: 8 in", "{size: 6 in", "size-twice", ":19:16"},
	{"unknown elastomer", "[NBR]", "[rubber]", "word-unknown", ":14:18"},
	{"unknown position", "[horizontal]", "[upright]", "word-unknown", ":12:17"},
	{"unknown service", "[raw sewage]", "[oil]", "word-unknown", ":11:16"},
	{"unknown key", "title: Own swing", "titel: Own swing", "key-unknown", ":9:5"},
	{"no maker", "maker: Somebody\n", "", "key-missing", ":1:1"},
	{"no licence", "licence: CC0-1.0\n", "", "key-missing", ":1:1"},
	{"key twice", "invented: yes", "invented: yes\ninvented: no", "key-twice", ":7:1"},
	{"not a list", "sizes:\n", "sizes: 3\n    spares:\n", "yaml-shape", ":17:12"},
	{"empty", good, "", "file-empty", ":1:1"},
	{"curve of one point", "    sizes:", "    measured: [{kind: loss against opening, size: 6 in, source: s, licence: l, loss: [[0.5, 3]]}]\n    sizes:", "measured-empty", ":17:23"},
	{"curve out of order", "    sizes:", "    measured: [{kind: loss against opening, size: 6 in, source: s, licence: l, loss: [[0.5, 3], [0.4, 4]]}]\n    sizes:", "measured-order", ":17:"},
	{"curve for nothing", "    sizes:", "    measured: [{kind: loss against opening, size: 10 in, source: s, licence: l, loss: [[0.4, 4], [0.5, 3]]}]\n    sizes:", "measured-for-nothing", ":17:"},
}

func TestUnreadableCatalogs(t *testing.T) {
	for _, e := range unreadable {
		t.Run(e.name, func(t *testing.T) {
			if !strings.Contains(good, e.from) {
				t.Fatalf("%q does not stand in the good catalog", e.from)
			}
			f, list := Parse("own.yaml", []byte(strings.Replace(good, e.from, e.to, 1)))
			if list.Err() == nil {
				_, list = Resolve(f)
			}
			for _, m := range list {
				if m.ID == e.id && strings.Contains(m.Error(), e.place) && m.Mend != "" {
					return
				}
			}
			t.Errorf("want %s at %s, got\n%v", e.id, e.place, list)
		})
	}
}

func TestCheckTellsWhatDoesNotFit(t *testing.T) {
	for _, e := range []edit{
		{"clean", "", "", "", ""},
		{"parts heavier than the whole", "mass: 70 kg", "mass: 3 kg", "mass-of-parts", ""},
		{"passage above bore", "passage: 145 mm", "passage: 160 mm", "passage-above-bore", ""},
		{"not full bore", "passage: 145 mm", "passage: 90 mm", "not-full-bore", ""},
		{"two masses", "element_mass: 3.8 kg", "element_mass: 6 kg", "element-mass", ""},
		{"velocity and loss", "full_open_velocity: 1.36 m/s", "full_open_velocity: 3.5 m/s", "unlikely-opening-efficiency", ""},
		{"falls with size", "mass: 130 kg", "mass: 60 kg", "falls-with-size", ""},
		{"no ends", "to: 8 in", "to: 6 in", "no-ends", ""},
		{"bore far from size", "bore: 203 mm", "bore: 140 mm", "bore-and-size", ""},
		{"stuck", "stroke_angle: 65 deg", "stroke_angle: 65 deg, friction: 90 N m", "does-not-close", ""},
	} {
		f, list := Parse("own.yaml", []byte(strings.Replace(good, e.from, e.to, 1)))
		catalogs, more := Resolve(f)
		if len(list)+len(more) > 0 {
			t.Errorf("%s: %v %v", e.name, list, more)
			continue
		}
		faults := Check(catalogs)
		found := e.id == "" && len(faults) == 0
		for _, m := range faults {
			found = found || m.ID == e.id
		}
		if !found {
			t.Errorf("%s: want %q, got\n%v", e.name, e.id, faults)
		}
	}
}

func TestDemoIsClean(t *testing.T) {
	if faults := Check(demoCatalogs(t)); len(faults) > 0 {
		t.Error(faults)
	}
}

// Losses full open against Jones, Sanks et al., Pumping Station Design, Table B-7, as
// quoted: ball 0.9 to 1.7; rubber flapper 1.1 to 2.0; swing 0.6 to 2.2; slanting disc
// 0.25 to 2.0; center-guided 2.6; double door 1.2 to 2.5.
func TestDemoLossesAreThoseOfTheHandbook(t *testing.T) {
	span := map[string][2]float64{
		"ball-cage": {0.9, 1.7}, "ball-pocket": {0.9, 1.7}, "flap": {1.1, 2.0}, "swing": {0.6, 2.2}, "swing-assisted": {0.6, 2.2},
		"swing-cushioned": {0.6, 2.2}, "tilting-disc": {0.25, 2.0}, "axial": {2.6, 2.6}, "dual-plate": {1.2, 2.5},
	}
	for _, f := range demoCatalogs(t)[0].Families {
		for _, it := range f.Items {
			m := build(t, it)
			loss := m.FullOpenVelocity().Loss
			if s := span[f.Type.Key]; loss < s[0]-0.005 || loss > s[1]+0.005 {
				t.Errorf("%s loses %.2f velocity heads full open; the handbook has %g to %g", it.ID, loss, s[0], s[1])
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(good)
	for _, e := range unreadable {
		f.Add(strings.Replace(good, e.from, e.to, 1))
	}
	f.Fuzz(func(_ *testing.T, text string) {
		file, list := Parse("fuzz.yaml", []byte(text))
		if list.Err() == nil {
			if catalogs, faults := Resolve(file); faults.Err() == nil {
				Check(catalogs)
			}
		}
	})
}
