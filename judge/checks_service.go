package judge

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/fluid"
	"seatward/rules"
)

// levels orders the words for a load.
var levels = map[string]int{"none": 0, "light": 1, "some": 1, "trace": 1, "heavy": 2, "high": 2}

// service weighs the liquid against what the maker offers the valve for.
func service(b *bench) []Finding {
	kind := b.Station.Fluid.Kind
	if slices.Contains(b.Item.Family.Services, kind) {
		return []Finding{{
			Kind: ServiceOffered, Text: "The maker offers it for " + string(kind) + ".",
			Basis: FromCatalog,
		}}
	}
	return []Finding{{
		Kind: ServiceNotOffered, Maker: true,
		Text: "The maker does not offer it for " + string(kind) + ", only for " +
			strings.Join(fluid.ServiceWords(b.Item.Family.Services), ", ") + ".", Basis: FromCatalog,
	}}
}

// solids weighs the largest sphere against the passage.
func solids(b *bench) []Finding {
	want, passage := b.Station.Fluid.Solids, b.Item.Passage
	if want.SI == 0 {
		return nil
	}
	if !passage.Known() {
		return []Finding{{
			Kind: SolidsUnknown, Text: "The catalog gives no clear passage.", Value: want,
			Basis: FromCatalog, Missing: "clear passage of the valve",
		}}
	}
	f := Finding{Value: passage, Limit: want, Basis: "ten-states sec. 42.33", Kind: SolidsPass}
	f.Text = fmt.Sprintf("Clear passage (sphere) %s; %s required.", b.show(passage), b.show(want))
	switch {
	case passage.SI >= want.SI*0.9999:
	case b.Station.Fluid.Said["solids"] || passage.SI < want.Low || b.Station.Fluid.Sewage():
		f.Kind, f.Mend = SolidsDoNotPass, "a full-bore type, or a larger size"
	default:
		f.Kind, f.Missing = SolidsToConfirm, "largest solids in the liquid"
	}
	return []Finding{f}
}

// burden is what the liquid may carry, and the findings on how much the maker accepts.
type burden struct {
	key, word                             string // of the station file, and as people call it
	accepted, toConfirm, unknown, tooMuch *Kind
	mend                                  string
}

// load weighs one service word of the station against what the maker accepts.
func (b *bench) load(x burden, station, family string) []Finding {
	_, known := levels[family]
	switch {
	case station == "none" && (b.Station.Fluid.Said[x.key] || !b.Station.Fluid.Sewage()):
		return nil
	case station == "none":
		if family == "heavy" {
			return nil // whatever it is, the maker accepts it
		}
		return []Finding{{
			Kind: x.toConfirm, Basis: FromCatalog, Missing: x.word + " in the liquid",
			Text: capital(x.word) + " in the sewage: not given; the maker accepts " + orNone(family) + ".",
		}}
	case !known:
		return []Finding{{
			Kind: x.unknown, Text: "The catalog does not say how much " + x.word + " it accepts.", Basis: FromCatalog,
			Missing: "the maker's word on " + x.word,
		}}
	case levels[station] > levels[family]:
		return []Finding{{
			Kind: x.tooMuch, Basis: FromCatalog, Mend: x.mend,
			Text: fmt.Sprintf("The liquid carries %s %s; the maker accepts %s.", station, x.word, orNone(family)),
		}}
	}
	return []Finding{{Kind: x.accepted, Text: "The maker accepts " + station + " " + x.word + ".", Basis: FromCatalog}}
}

func orNone(word string) string {
	if word == "" {
		return "nothing stated"
	}
	return word
}

func rags(b *bench) []Finding {
	return b.load(burden{
		key: "rags", word: "rags", accepted: RagsAccepted, toConfirm: RagsToConfirm, unknown: RagsUnknown,
		tooMuch: RagsTooMuch,
		mend:    "a full-bore ball or flap, which does not catch rags",
	}, b.Station.Fluid.Rags, b.Item.Family.Rags)
}

func grit(b *bench) []Finding {
	return b.load(burden{
		key: "grit", word: "grit", accepted: GritAccepted, toConfirm: GritToConfirm, unknown: GritUnknown,
		tooMuch: GritTooMuch,
		mend:    "an element and seat for gritty service; inspect more often",
	}, b.Station.Fluid.Grit, b.Item.Family.Grit)
}

// elastomer looks for one of the offered elastomers that bears temperature, oil and grit.
func elastomer(b *bench) []Finding {
	var why []string
	for _, name := range b.Item.Family.Elastomers {
		if name == "none" {
			return []Finding{{Kind: ElastomerSuits, Text: "No elastomer in the flow.", Basis: FromCatalog}}
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
		f := Finding{
			Kind: ElastomerSuits, Text: "Specify " + name + ": good for the temperature and the oil.",
			Value: b.Station.Fluid.MaxTemperature, Basis: e.Source,
		}
		if levels[b.Station.Fluid.Grit] > levels[e.Grit] {
			f.Kind, f.Text = ElastomerWears, "Specify "+name+", but the grit is more than it is good for: it wears."
			f.Mend = "inspect it often, or specify a harder-wearing rubber"
		}
		oil := Finding{
			Kind: ElastomerOilToConfirm, Text: name + " is good for the temperature, not for oil and grease.",
			Value: f.Value, Basis: f.Basis, Missing: "oil and grease in the liquid",
		}
		switch asked := !b.Station.Fluid.Said["oil"] && b.Station.Fluid.Sewage() && e.Oil == "none"; {
		case asked && f.Kind == ElastomerWears:
			return []Finding{f, oil}
		case asked:
			return []Finding{oil}
		}
		return []Finding{f}
	}
	return []Finding{{
		Kind: ElastomerUnsuitable,
		Text: "None of the elastomers offered is good for the service: " + strings.Join(why, "; ") +
			".", Value: b.Station.Fluid.MaxTemperature, Basis: "general rubber handbooks", Mend: "ask the maker for another elastomer",
	}}
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
	f := Finding{Kind: DrinkingWaterCertified, Basis: "local law; such as NSF/ANSI/CAN 61 in North America"}
	switch b.Item.Family.DrinkingWater {
	case "certified":
		f.Text = "Certified for drinking water by the catalog; ask for the certificate that your state accepts."
	case "on request":
		f.Kind, f.Text, f.Mend = DrinkingWaterOnRequest, "Certified for drinking water on request only.", "order it with the certificate"
	case "no":
		f.Kind, f.Text = DrinkingWaterNotCertified, "Not certified for drinking water."
	default:
		f.Kind, f.Text, f.Missing = DrinkingWaterUnknown, "The catalog says nothing about drinking water.", "certificate for drinking water"
	}
	return []Finding{f}
}

// sulfide reminds of hydrogen sulfide.
func sulfide(b *bench) []Finding {
	if b.Station.Fluid.HydrogenSulfide != "high" {
		return nil
	}
	return []Finding{{
		Kind: SulfideHigh,
		Text: "High hydrogen sulfide: coating and bolting, inside and out, must resist it (" +
			b.Item.Family.Coating.Material + "; " + b.Item.Family.Bolting.Material +
			").", Basis: basis.CommonPractice, Mend: "have the maker confirm coating and bolting",
	}}
}
