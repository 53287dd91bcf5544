package judge

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/rules"
)

// levels orders the words for a load.
var levels = map[string]int{"none": 0, "light": 1, "some": 1, "trace": 1, "heavy": 2, "high": 2}

// service weighs the liquid against what the maker offers the valve for.
func service(b *bench) []Finding {
	kind := b.Station.Fluid.Kind
	if slices.Contains(b.Item.Family.Services, kind) {
		return []Finding{{ID: "service", Severity: Pass, Text: "The maker offers it for " + kind + ".", Basis: "catalog"}}
	}
	return []Finding{{ID: "service-not-offered", Severity: Rejects, Maker: true, Text: "The maker does not offer it for " + kind + ", only for " + strings.Join(b.Item.Family.Services, ", ") + ".", Basis: "catalog"}}
}

// solids weighs the largest sphere against the passage.
func solids(b *bench) []Finding {
	want, passage := b.Station.Fluid.Solids, b.Item.Passage
	if want.SI == 0 {
		return nil
	}
	if !passage.Known() {
		return []Finding{{ID: "solids-unknown", Severity: Condition, Text: "The catalog gives no clear passage.", Value: want, Basis: "catalog", Missing: "clear passage of the valve"}}
	}
	f := Finding{Value: passage, Limit: want, Basis: "ten-states sec. 42.33", ID: "solids"}
	f.Text = fmt.Sprintf("Clear passage (sphere) %s; %s required.", b.show(passage), b.show(want))
	switch {
	case passage.SI >= want.SI*0.9999:
		f.Severity = Pass
	case b.Station.Fluid.Said["solids"] || passage.SI < want.Low || b.Station.Fluid.Sewage():
		f.ID, f.Severity, f.Mend = "solids-do-not-pass", Rejects, "a full-bore type, or a larger size"
	default:
		f.ID, f.Severity, f.Missing = "solids-to-confirm", Confirm, "largest solids in the liquid"
	}
	return []Finding{f}
}

// load weighs one service word of the station against what the maker accepts.
func (b *bench) load(id, word, station, family string, over Severity, mend string) []Finding {
	_, known := levels[family]
	switch {
	case station == "none" && (b.Station.Fluid.Said[id] || !b.Station.Fluid.Sewage()):
		return nil
	case station == "none":
		if family == "heavy" {
			return nil // whatever it is, the maker accepts it
		}
		return []Finding{{ID: id + "-to-confirm", Severity: Confirm, Text: capital(word) + " in the sewage: not given; the maker accepts " + orNone(family) + ".", Basis: "catalog", Missing: word + " in the liquid"}}
	case !known:
		return []Finding{{ID: id + "-unknown", Severity: Confirm, Text: "The catalog does not say how much " + word + " it accepts.", Basis: "catalog", Missing: "the maker's word on " + word}}
	case levels[station] > levels[family]:
		return []Finding{{ID: id + "-too-much", Severity: over, Text: fmt.Sprintf("The liquid carries %s %s; the maker accepts %s.", station, word, orNone(family)), Basis: "catalog", Mend: mend}}
	}
	return []Finding{{ID: id, Severity: Pass, Text: "The maker accepts " + station + " " + word + ".", Basis: "catalog"}}
}

func orNone(word string) string {
	if word == "" {
		return "nothing stated"
	}
	return word
}

func rags(b *bench) []Finding {
	return b.load("rags", "rags", b.Station.Fluid.Rags, b.Item.Family.Rags, Rejects, "a full-bore ball or flap, which does not catch rags")
}

func grit(b *bench) []Finding {
	return b.load("grit", "grit", b.Station.Fluid.Grit, b.Item.Family.Grit, Condition, "an element and seat for gritty service; inspect more often")
}

// elastomer looks for one of the offered elastomers that bears temperature, oil and grit.
func elastomer(b *bench) []Finding {
	var why []string
	for _, name := range b.Item.Family.Elastomers {
		if name == "none" {
			return []Finding{{ID: "elastomer", Severity: Pass, Text: "No elastomer in the flow.", Basis: "catalog"}}
		}
		e, ok := b.Rules.Elastomer(name)
		if !ok {
			why = append(why, name+": not in the rules")
			continue
		}
		if fault := b.bears(e); fault != "" {
			why = append(why, name+": "+fault)
			continue
		}
		f := Finding{ID: "elastomer", Severity: Pass, Text: "Specify " + name + ": good for the temperature and the oil.", Value: b.Station.Fluid.MaxTemperature, Basis: e.Source}
		if levels[b.Station.Fluid.Grit] > levels[e.Grit] {
			f.ID, f.Severity, f.Text = "elastomer-wears", Condition, "Specify "+name+", but the grit is more than it is good for: it wears."
			f.Mend = "inspect it often, or specify a harder-wearing rubber"
		}
		if !b.Station.Fluid.Said["oil"] && b.Station.Fluid.Sewage() && e.Oil == "none" {
			f.ID, f.Severity, f.Missing = "elastomer-oil-to-confirm", Confirm, "oil and grease in the liquid"
		}
		return []Finding{f}
	}
	return []Finding{{ID: "elastomer-unsuitable", Severity: Rejects, Text: "None of the elastomers offered is good for the service: " + strings.Join(why, "; ") + ".", Value: b.Station.Fluid.MaxTemperature, Basis: "general rubber handbooks", Mend: "ask the maker for another elastomer"}}
}

// bears says what the elastomer does not bear, or "".
func (b *bench) bears(e rules.Elastomer) string {
	f := b.Station.Fluid
	switch {
	case f.MaxTemperature.SI > e.MostK:
		return "too hot"
	case levels[f.Oil] > levels[e.Oil]:
		return "oil"
	}
	return ""
}

// drinkingWater asks for a certificate.
func drinkingWater(b *bench) []Finding {
	if !b.Station.Fluid.Drinking() {
		return nil
	}
	f := Finding{ID: "drinking-water", Basis: "local law; such as NSF/ANSI/CAN 61 in North America"}
	switch b.Item.Family.DrinkingWater {
	case "certified":
		f.Severity, f.Text = Pass, "Certified for drinking water by the catalog; ask for the certificate that your state accepts."
	case "on request":
		f.ID, f.Severity, f.Text, f.Mend = "drinking-water-on-request", Condition, "Certified for drinking water on request only.", "order it with the certificate"
	case "no":
		f.ID, f.Severity, f.Text = "drinking-water-not-certified", Rejects, "Not certified for drinking water."
	default:
		f.ID, f.Severity, f.Text, f.Missing = "drinking-water-unknown", Condition, "The catalog says nothing about drinking water.", "certificate for drinking water"
	}
	return []Finding{f}
}

// sulfide reminds of hydrogen sulfide.
func sulfide(b *bench) []Finding {
	if b.Station.Fluid.HydrogenSulfide != "high" {
		return nil
	}
	return []Finding{{ID: "sulfide", Severity: Condition, Text: "High hydrogen sulfide: coating and bolting, inside and out, must resist it (" + b.Item.Family.Coating.Material + "; " + b.Item.Family.Bolting.Material + ").", Basis: basis.CommonPractice, Mend: "have the maker confirm coating and bolting"}}
}
