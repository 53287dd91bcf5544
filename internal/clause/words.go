package clause

import (
	"regexp"
	"slices"
	"strings"
)

// vocabulary is a word that specifications use, and how it is written here.
type vocabulary struct {
	word  string
	match *regexp.Regexp
}

func vocabularies(pairs ...string) []vocabulary {
	var out []vocabulary
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, vocabulary{pairs[i], regexp.MustCompile(`(?i)\b(?:` + pairs[i+1] + `)\b`)})
	}
	return out
}

// Materials by the names that catalogs have. The grade of a stainless steel is part of it.
var materials = vocabularies(
	"ductile iron", `ductile[- ]iron|nodular(?: cast)? iron|SG iron|spheroidal graphite iron`,
	"gray iron", `gr[ae]y(?: cast)? iron|cast[- ]iron`,
	"stainless steel 316", `(?:type |grade )?316L? (?:stainless(?: steel)?|SS)|stainless steel,?(?: type| grade)? 316L?|316 ?SS`,
	"stainless steel 304", `(?:type |grade )?304L? (?:stainless(?: steel)?|SS)|stainless steel,?(?: type| grade)? 304L?|304 ?SS`,
	"stainless steel", `stainless steel|stainless`,
	"carbon steel", `carbon steel`,
	"cast steel", `cast steel`,
	"galvanized steel", `galvani[sz]ed steel`,
	"aluminum bronze", `alumini?um bronze`,
	"bronze", `bronze`,
	"brass", `brass`,
	"NBR", `NBR|buna-?n|nitrile(?: rubber)?`,
	"EPDM", `EPDM`,
	"FKM", `FKM`,
	"chloroprene", `chloroprene|CR rubber`,
	"natural rubber", `natural rubber`,
	"polyurethane", `polyurethane`,
	"PVC", `PVC`,
)

// elastomers are materials that name the rubber of a valve by themselves.
var elastomers = []string{"NBR", "EPDM", "FKM", "chloroprene", "natural rubber"}

// parts of a valve, by the names that bills of materials have.
var parts = vocabularies(
	"body", `bod(?:y|ies)`,
	"cover", `bonnets?|covers?`,
	"bolting", `(?:cover )?bolt(?:s|ing)?|fasteners?|cap ?screws?|studs?`,
	"seat", `seats?(?: rings?)?`,
	"element", `dis[ck]s?|flaps?|flappers?|balls?|clappers?|plates?`,
	"hinge pin", `hinge pins?|hinge shafts?|shafts?|pivot pins?`,
	"spring", `springs?`,
	"elastomer", `elastomers?|rubber|resilient(?: seats?| seating)?`,
	"coating", `coatings?|linings?`,
	"gasket", `gaskets?|o-rings?`,
)

// coatings by kind.
var coatings = vocabularies(
	"fusion-bonded epoxy", `fusion[- ]bonded(?: epoxy)?|FBE`,
	"liquid epoxy", `(?:two|2)[- ](?:part|component)(?: liquid)? epoxy|liquid epoxy`,
	"epoxy", `epoxy`,
	"polyurethane coating", `polyurethane (?:coating|lining)`,
	"asphalt", `asphalt(?:ic)?(?: varnish)?`,
	"rubber lining", `rubber[- ]lin(?:ed|ing)`,
	"enamel", `enamel`,
)

// types of check valves, by the styles of package valve.
var types = vocabularies(
	"swing", `swing(?:[- ]type)?(?: check| non-return)`,
	"ball", `ball(?:[- ]type)?(?: check| non-return)|rolling ball`,
	"flap", `(?:rubber |resilient |flexible )*flap(?:per)?(?:[- ]type)?(?: swing)?(?: check| non-return)|rubber flap(?:per)?`,
	"dual plate", `(?:dual|double)[- ](?:plate|dis[ck]|door|flap)(?: check| wafer)?`,
	"tilting disc", `(?:tilting|slanting|tilted)[- ]dis[ck](?: check)?`,
	"axial", `(?:axial|nozzle|silent|center-guided|globe[- ]style)(?: flow| spring)?(?: check| non-return)`,
	"duckbill", `duckbill(?: check)?`,
)

// ends by how they join.
var ends = vocabularies(
	"flange", `flanged?(?: ends)?|flanges`,
	"thread", `threaded|screwed|NPT`,
	"wafer", `wafer`,
	"mechanical joint", `mechanical[- ]joint|MJ`,
	"grooved", `grooved`,
	"push-on", `push-on`,
)

// options that some valves can be had with.
var options = vocabularies(
	"limit switch", `limit switch(?:es)?|proximity switch(?:es)?`,
	"position indicator", `position indicat(?:or|ion)s?|visual indicator`,
	"lever and weight", `(?:outside |external |exterior )?lever and (?:counter)?weight|(?:counter)?weighted lever`,
	"lever and spring", `(?:outside |external |exterior )?lever and spring|spring[- ]loaded lever`,
	"external lever", `(?:outside|external|exterior) lever(?: arm)?`,
	"cushion", `(?:air|oil|hydraulic|bottom[- ]mounted)?[- ]?(?:cushion(?:ed)?|dash-?pot|buffer)`,
	"backflow device", `back-?flow (?:device|actuator|lever)|back-?flush(?:ing)? (?:device|actuator)`,
)

var documents = vocabularies(
	"data sheet", `(?:product |technical |valve )?data sheets?|catalog(?:ue)? (?:cuts?|data|sheets?)|product data`,
	"head-loss curve", `head[- ]?loss (?:curves?|charts?|data)`,
	"closing curve", `(?:dynamic|closing|deceleration) (?:curves?|characteristics?|data)`,
	"bill of materials", `bills? of materials?|materials? lists?|lists? of materials?`,
	"test procedure", `test procedures?`,
	"installation instructions", `installation (?:instructions?|manuals?)`,
	"maintenance manual", `O\s?&\s?M manuals?|operation and maintenance (?:manuals?|instructions?|data)|maintenance manuals?`,
	"spare parts list", `(?:recommended )?spare[- ]parts?(?: lists?)?|lists? of spares?`,
	"drawings", `(?:shop |dimension(?:al|ed)? |outline |assembly |general arrangement )?drawings?`,
	"warranty", `warrant(?:y|ies)|guarantees?`,
)

var certificates = vocabularies(
	"certificate", `certificat(?:e|es|ion)|certified(?: copies| test)?|affidavits?|mill (?:tests?|certs?)(?: reports?)?|type 3\.1|EN 10204(?:[- ]type)? 3\.1|test (?:reports?|records?)|statements? of compliance`,
)

var positions = vocabularies(
	"vertical, flow up", `vertical(?:ly)?,?(?: with)? (?:up(?:ward)?[- ]?flow|flow[- ]up|flow upward)|up(?:ward)?[- ]?flow|flow[- ]up`,
	"vertical", `vertical(?:ly)?`,
	"horizontal", `horizontal(?:ly)?`,
)

var (
	fullBore = vocabularies("full bore", `full[- ](?:bore|port|waterway|flow area)|(?:equal to|not less than) (?:the )?(?:full )?(?:pipe|nominal) (?:bore|area)`)
	noSlam   = vocabularies("no slam", `non-?slam(?:ming)?|without slam(?:ming)?|not slam|slam-?free|close (?:quietly|silently|without noise)`)
)

// hit is a word found at a place.
type hit struct {
	word     string
	from, to int
}

// hits finds words of which none has been read, the earlier rows first.
func (f *finder) hits(all []vocabulary) []hit {
	var out []hit
	for _, v := range all {
		for _, m := range v.match.FindAllStringIndex(string(f.left), -1) {
			if !slices.ContainsFunc(out, func(h hit) bool { return h.from < m[1] && m[0] < h.to }) {
				out = append(out, hit{v.word, m[0], m[1]})
			}
		}
	}
	slices.SortFunc(out, func(a, b hit) int { return a.from - b.from })
	return out
}

// words finds the demands in words. The order keeps "rubber flap check" from being read as
// an elastomer.
func (f *finder) words() {
	never := denied.MatchString(f.text)
	simple := func(s Subject, all []vocabulary) {
		for _, h := range f.hits(all) {
			d := Demand{Subject: s, Words: []string{h.word}}
			if never {
				d.Relation = Never
			}
			f.add(d, h.from, h.to)
		}
	}
	simple(Type, types)
	simple(Document, documents)
	simple(Certificate, certificates)
	simple(NoSlam, noSlam)
	simple(FullBore, fullBore)
	simple(Option, options)
	f.coating(never)
	f.materials(never)
	if ofValve.MatchString(f.text) || ofValve.MatchString(f.under) {
		simple(Ends, ends)
	}
	simple(Position, positions)
}

// Ends are those of the valve where the sentence speaks of it: "threaded plugs for drains"
// are no ends.
var ofValve = regexp.MustCompile(`(?i)\bvalves?\b|\bends?\b|connection|\bflange[sd]\b`)

// coating finds kinds of coating; several joined by "or" are one demand.
func (f *finder) coating(never bool) {
	found := f.hits(coatings)
	for i := 0; i < len(found); i++ {
		from := found[i].from
		d := Demand{Subject: Coating, Words: []string{found[i].word}}
		for i+1 < len(found) && orWord.MatchString(f.text[found[i].to:found[i+1].from]) &&
			joins.MatchString(f.text[found[i].to:found[i+1].from]) {
			i++
			d.Words = append(d.Words, found[i].word)
		}
		if never {
			d.Relation = Never
		}
		f.add(d, from, found[i].to)
	}
}

var (
	joins  = regexp.MustCompile(`(?i)^[\s,]*\bor\b[\s,]*$|^\s*,\s*$|^\s*/\s*$`)
	orWord = regexp.MustCompile(`(?i)\bor\b|/`)
)

// materials finds materials with the part that each is of: the part behind it ("ductile
// iron body"), else the last part before it.
func (f *finder) materials(never bool) {
	found := f.hits(materials)
	at := f.hits(parts)
	for i := 0; i < len(found); i++ {
		h := found[i]
		d := Demand{Subject: Material, Words: []string{h.word}}
		to := h.to
		for i+1 < len(found) && joins.MatchString(f.text[to:found[i+1].from]) &&
			(orWord.MatchString(f.text[to:found[i+1].from]) || alternatives(f.text, found[i+1:])) {
			i++
			d.Words = append(d.Words, found[i].word)
			to = found[i].to
		}
		of := partsOf(f.text, h.from, to, at)
		for _, p := range of {
			d.Part = p.word
			blanked(f.left, p.from, p.to)
		}
		if d.Part == "" && slices.Contains(elastomers, h.word) {
			d.Part = "elastomer"
		}
		if d.Part == "" && strings.Contains(strings.ToLower(f.under), "bod") {
			d.Part = "body"
		}
		if d.Part == "" {
			continue // of what it is, a person has to read
		}
		if never {
			d.Relation = Never
		}
		f.add(d, h.from, to)
		for i := 0; i+1 < len(of); i++ { // "body and cover": the same of each
			d.Part = of[i].word
			f.add(d, h.from, to)
		}
	}
}

// alternatives is true where an "or" comes before the last of the materials that go on.
func alternatives(text string, more []hit) bool {
	for i := 0; i+1 < len(more); i++ {
		between := text[more[i].to:more[i+1].from]
		if !joins.MatchString(between) {
			return false
		}
		if orWord.MatchString(between) {
			return true
		}
	}
	return false
}

// near is true for what may stand between a material and its part: nothing, or one word
// that joins nothing else to it.
func near(between string) bool {
	words := strings.Fields(strings.Trim(between, " -"))
	return len(words) == 0 || len(words) == 1 &&
		!slices.Contains([]string{"and", "or", "with", "for", "of", "in", "on", "to", "shall", "but"}, strings.ToLower(words[0])) &&
		!strings.ContainsAny(words[0], ",;:.")
}

// partsOf are the parts that a material is of: "bronze seat ring", "body and cover: ductile
// iron"; none where the text does not say.
func partsOf(text string, from, to int, at []hit) []hit {
	for _, p := range at {
		if p.from >= to && near(text[to:p.from]) {
			return []hit{p}
		}
	}
	for i := len(at) - 1; i >= 0; i-- {
		if p := at[i]; p.to <= from && !strings.ContainsAny(text[p.to:from], ",;") {
			first := i
			for first > 0 && listed.MatchString(text[at[first-1].to:at[first].from]) {
				first--
			}
			return at[first : i+1]
		}
	}
	return nil
}

var listed = regexp.MustCompile(`(?i)^\s*(?:,|and|&|,\s*and)\s*$`)

// Materials are the materials that a text names, by the words used here.
func Materials(text string) []string { return wordsIn(materials, text) }

// Coatings are the kinds of coating that a text names.
func Coatings(text string) []string { return wordsIn(coatings, text) }

func wordsIn(all []vocabulary, text string) []string {
	f := finder{text: text, left: []byte(text)}
	var out []string
	for _, h := range f.hits(all) {
		out = append(out, h.word)
	}
	return out
}
