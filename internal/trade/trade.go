// Package trade holds what people in pumping stations say, and which word of a station file
// each means. Station files, fields and letters are read by the same lists.
package trade

import "strings"

// Word is one way to say something. It means the one word, or one of several: then its
// writer must choose.
type Word struct {
	Said  string
	Means []string
}

// say makes words that mean the same.
func say(means string, said ...string) []Word {
	var out []Word
	for _, s := range said {
		out = append(out, Word{s, strings.Split(means, "|")})
	}
	return out
}

func all(groups ...[]Word) []Word {
	var out []Word
	for _, g := range groups {
		out = append(out, g...)
	}
	return out
}

// lists are the vocabularies by the name that the tag said carries. What is longer stands
// for itself: "reclaimed water" is not "water".
var lists = map[string][]Word{
	"liquid": all(
		say("raw sewage", "raw sewage", "sewage", "sanitary sewage", "raw wastewater", "wastewater", "waste water",
			"sanitary wastewater", "domestic sewage", "municipal sewage", "foul sewage", "black water", "blackwater",
			"unscreened sewage", "screened sewage", "sanitary", "septage", "foul water"),
		say("sludge", "sludge", "RAS", "WAS", "return activated sludge", "waste activated sludge", "digested sludge",
			"primary sludge", "thickened sludge", "mixed liquor"),
		say("effluent", "effluent", "final effluent", "treated effluent", "secondary effluent", "treated wastewater",
			"reclaimed water", "reuse water", "STEP effluent", "septic tank effluent"),
		say("raw water", "raw water", "river water", "well water", "lake water", "reservoir water", "ground water",
			"groundwater", "stormwater", "storm water", "surface water", "irrigation water", "irrigation", "rainwater"),
		say("drinking water", "drinking water", "potable water", "potable", "finished water", "treated water",
			"town water", "tap water", "city water", "domestic water"),
		say("raw water|drinking water", "water", "clean water", "clear water", "fresh water", "cold water"),
		say("effluent|raw water", "gray water", "grey water", "process water", "non-potable water"),
		say("raw sewage|effluent", "sewer", "drainage"),
	),
	"rags": all(
		say("heavy", "wipes", "flushable wipes", "wet wipes", "rags", "ragging", "stringy material", "fibrous material",
			"heavy rags", "lots of rags", "a lot of rags", "many rags", "full of rags", "lots of wipes", "a lot of wipes",
			"many wipes", "full of wipes", "rag balls", "baby wipes", "disposable wipes", "much"),
		say("light", "some rags", "few rags", "occasional rags", "some", "light rags"),
		say("none", "no rags", "no wipes", "rag free", "screened", "no"),
	),
	"grit": all(
		say("some", "grit", "sand", "gritty", "light", "some sand", "some grit"),
		say("heavy", "heavy grit", "lots of grit", "lots of sand", "much"),
		say("none", "no grit", "no sand", "grit free", "degritted", "no"),
	),
	"oil": all(
		say("trace", "some", "light", "some grease", "FOG", "grease", "fat", "fats"),
		say("heavy", "lots of grease", "heavy grease", "much"),
		say("none", "no oil", "no grease", "no"),
	),
	"position": all(
		say("flow up", "flow up", "vertical riser", "vertical up", "vertical flow up", "upflow", "up-flow", "vertical upward",
			"vertical upflow", "upward flow", "vertically upward", "vertical, flow up", "in the riser", "up", "riser"),
		say("flow down", "flow down", "vertical down", "downflow", "down-flow", "vertical downward", "downward flow", "down"),
		say("horizontal", "horizontal", "horizontal run", "horizontal pipe", "horizontal line", "horizontally", "horiz.", "horiz",
			"level"),
		say("flow up|flow down", "vertical", "vertical pipe", "vertical line", "vertically", "vertical run"),
	),
	"place": all(
		say("valve vault", "valve vault", "vault", "valve pit", "valve box", "valve chamber", "chamber", "meter vault"),
		say("dry pit", "dry pit", "dry well", "drywell", "dry-pit", "dry-well", "dry chamber"),
		say("wet well", "wet well", "wetwell", "wet pit", "sump", "inside the wet well"),
		say("above ground", "above ground", "above grade", "aboveground", "exposed piping", "at grade", "outdoors"),
		say("pump house", "pump house", "pumphouse", "pump room", "building", "pump building", "plant room"),
	),
	"material": all(
		say("ductile iron", "ductile iron pipe", "ductile iron", "ductile", "DIP", "D.I.P.", "DI", "D.I.", "DICL",
			"nodular iron", "SG iron", "class 350 DI"),
		say("PVC", "PVC", "uPVC", "PVC-U", "polyvinyl chloride", "C900", "C-900", "C905"),
		say("HDPE", "HDPE", "PE100", "PE 100", "PE4710", "PE80", "PE 80", "polyethylene", "poly pipe", "PEHD", "PE"),
		say("steel", "carbon steel", "mild steel", "black steel", "welded steel", "steel", "galvanized steel", "CS"),
		say("cast iron|ductile iron", "cast iron", "grey iron", "gray iron", "CIP", "C.I.", "CI pipe"),
		say("stainless steel|steel", "stainless steel", "stainless", "SS pipe"),
	),
	"stop": all(
		say("soft stop", "soft starter", "soft starters", "soft-starter", "soft start", "soft-start", "softstarter",
			"RVSS", "reduced voltage starter", "soft stop"),
		say("speed ramp", "VFD", "VFDs", "variable frequency drive", "variable frequency drives", "variable speed",
			"VSD", "frequency converter", "variable-speed drive", "inverter", "ramp"),
		say("direct", "across the line", "across-the-line", "direct on line", "direct-on-line", "DOL", "full voltage",
			"contactor", "none"),
	),
	"key": all(
		say("main", "force main", "force_main", "forcemain", "rising main", "rising_main", "pressure main",
			"delivery main", "pipeline"),
		say("branch", "discharge pipe", "discharge_pipe", "riser", "pump discharge", "lateral"),
		say("head", "tdh", "TDH", "total dynamic head", "total_dynamic_head", "total head"),
		say("static_head", "static lift", "static_lift", "lift", "static", "geodetic head", "static head"),
		say("fluid", "liquid", "medium"), say("kind", "service", "type"), say("size", "diameter", "DN", "dia"),
		say("levels", "elevations"), say("count", "number", "quantity", "qty", "pumps"),
		say("existing", "existing valve", "existing_valve", "valve there now"),
	),
}

// List is the vocabulary of the name; nil where there is none.
func List(name string) []Word { return lists[name] }

// Find gives what a text means by the vocabulary: one word, or several to choose from; nil
// where nobody says so.
func Find(name, text string) []string {
	text = strings.Join(strings.Fields(text), " ")
	for _, w := range lists[name] {
		if strings.EqualFold(w.Said, text) {
			return w.Means
		}
	}
	return nil
}
