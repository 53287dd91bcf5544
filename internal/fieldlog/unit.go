package fieldlog

import (
	"regexp"
	"strings"

	"seatward/quantity"
)

// meaning is what a unit says of a column.
type meaning struct {
	measures Measure
	scale    float64 // to SI
}

// ownUnits are those that no station file has.
var ownUnits = map[string]meaning{
	"bara": {Absolute, 1e5}, "bar a": {Absolute, 1e5}, "bar(a)": {Absolute, 1e5}, "bar abs": {Absolute, 1e5},
	"psia": {Absolute, 6894.757293168}, "kpaa": {Absolute, 1e3}, "kpa abs": {Absolute, 1e3}, "kpa a": {Absolute, 1e3},
	"barg": {Pressure, 1e5}, "bar g": {Pressure, 1e5}, "bar(g)": {Pressure, 1e5}, "psig": {Pressure, 6894.757293168},
	"kpag": {Pressure, 1e3},
	"mwc":  {Head, 1}, "mh2o": {Head, 1}, "m h2o": {Head, 1}, "mws": {Head, 1}, "m wc": {Head, 1}, "mca": {Head, 1},
	"ftwc": {Head, 0.3048}, "fth2o": {Head, 0.3048}, "ft h2o": {Head, 0.3048}, "cmh2o": {Head, 0.01},
	"m3/15min": {Flow, 1.0 / 900}, "m³/15min": {Flow, 1.0 / 900}, "m3/15 min": {Flow, 1.0 / 900},
	"m³/15 min": {Flow, 1.0 / 900}, "m3/10min": {Flow, 1.0 / 600}, "m3/5min": {Flow, 1.0 / 300},
	"a": {Current, 1}, "amp": {Current, 1}, "amps": {Current, 1},
	"on/off": {State, 1}, "0/1": {State, 1}, "bool": {State, 1},
	"hz": {Other, 1}, "v": {Other, 1}, "°c": {Other, 1}, "c": {Other, 1}, "f": {Other, 1}, "°f": {Other, 1},
	"ma": {Other, 1}, "-": {Other, 1},
}

// tried are the kinds under which a unit is looked up. Length comes as level until a name says
// that it is a head.
var tried = []struct {
	kind     quantity.Kind
	measures Measure
}{
	{quantity.Pressure, Pressure},
	{quantity.Flow, Flow},
	{quantity.Power, Power},
	{quantity.Length, Level},
	{quantity.Volume, Volume},
	{quantity.RotationalSpeed, Speed},
	{quantity.Fraction, Efficiency},
}

// meaningOf looks a unit up; false for what is none.
func meaningOf(unit string) (meaning, bool) {
	unit = strings.TrimSpace(unit)
	if m, ok := ownUnits[strings.ToLower(unit)]; ok {
		return m, true
	}
	if unit == "" || len(unit) > 16 || strings.ContainsAny(unit, "0123456789") && !strings.ContainsAny(unit, "23") {
		return meaning{}, false
	}
	for _, t := range tried {
		if q, err := quantity.Parse(t.kind, "1000 "+unit); err == nil && q.Unit != "" && q.SI != 0 {
			return meaning{t.measures, q.SI / 1000}, true
		}
	}
	return meaning{}, false
}

var (
	inBrackets = regexp.MustCompile(`[\[(]\s*([^\])]{1,16}?)\s*[\])]\s*$`)
	atEnd      = regexp.MustCompile(`(?:,|/|:|\bin|_|\s)\s*([^\s,_:]{1,10})$`)

	sampleMean = regexp.MustCompile(`(?i)\b(avg|average|mean|mittel\w*|mw|moyenne)\b|_avg|_mean`)
	sampleMax  = regexp.MustCompile(`(?i)\b(max|maximum|peak)\b|_max`)
	sampleMin  = regexp.MustCompile(`(?i)\b(min|minimum)\b|_min$`)
	pumpNumber = regexp.MustCompile(`(?i)(?:pump|pumpe|\bp|pmp)[ _.#-]*(\d{1,2})\b`)
)

// names are words of headings and tags, by measure; the first that fits is taken.
var names = []struct {
	measures Measure
	words    *regexp.Regexp
}{
	{Efficiency, regexp.MustCompile(`(?i)effic|\beta\b|wirkungsgrad`)},
	{Inflow, regexp.MustCompile(`(?i)inflow|influent|zulauf|zufluss|incoming`)},
	{Outflow, regexp.MustCompile(`(?i)outflow|effluent flow|pumped|ablauf`)},
	{Level, regexp.MustCompile(`(?i)level|niveau|\bwell\b|wet ?well|sump|füllstand|pegel|(^|[^a-z])l(i|t)t?[ _-]?\d`)},
	{Power, regexp.MustCompile(`(?i)power|leistung|\bkw\b`)},
	{Current, regexp.MustCompile(`(?i)current|amps?\b|strom`)},
	{Speed, regexp.MustCompile(`(?i)speed|rpm|drehzahl|vfd|freq`)},
	{State, regexp.MustCompile(`(?i)\brun(ning)?\b|on[/_]off|\bstate\b|betrieb|_run\b|start/stop`)},
	{Pressure, regexp.MustCompile(`(?i)press|druck|(^|[^a-z])p(i|t)t?[ _-]?\d`)},
	{Head, regexp.MustCompile(`(?i)head|discharge|manifold|header|\bvalve\b`)},
	{Flow, regexp.MustCompile(`(?i)flow|durchfluss|\bq\b|(^|[^a-z])f(i|t|it)[ _-]?\d`)},
	{Volume, regexp.MustCompile(`(?i)volume|total|volumen`)},
}

func namedMeasure(name string) Measure {
	for _, n := range names {
		if n.words.MatchString(name) {
			return n.measures
		}
	}
	return ""
}

// unitIn finds a unit in a heading: in brackets, or as its last word.
func unitIn(heading string) string {
	for _, re := range []*regexp.Regexp{inBrackets, atEnd} {
		if m := re.FindStringSubmatch(heading); m != nil {
			if _, ok := meaningOf(m[1]); ok && (re == inBrackets || len(m[1]) > 1 || m[1] == "m") {
				return m[1]
			}
		}
	}
	return ""
}

// settle finds what a channel measures from its name, its unit and its first values, and asks
// where they do not say it. What the map says is left alone.
func settle(c *MapChannel, twoStates bool) *Question {
	if c.Unit == "" {
		c.Unit = unitIn(c.Column)
	}
	if c.Sample == Unsaid {
		c.Sample = namedSample(c.Column)
	}
	if m := pumpNumber.FindStringSubmatch(c.Column); m != nil && c.Pump == 0 {
		for _, d := range m[1] {
			c.Pump = 10*c.Pump + int(d-'0')
		}
	}
	if c.Measures != "" {
		return nil
	}
	named := namedMeasure(c.Column)
	unit, known := meaningOf(c.Unit)
	switch {
	case twoStates && !known && (named == State || named == ""), twoStates && named == State:
		c.Measures = State
	case known && unit.measures == Level:
		if named == Head || named == Pressure {
			c.Measures = Head
			return nil
		}
		if c.Measures = Level; named != Level {
			return &Question{
				ID: "level-or-head", Column: c.Column, Text: "The unit " + c.Unit + " of \"" + c.Column +
					"\" fits a level and a head.", Taken: "level", Choices: []string{"level", "head"},
				Key: "channels.measures",
			}
		}
	case known && unit.measures == Flow && (named == Inflow || named == Outflow):
		c.Measures = named
	case known && unit.measures == Efficiency && named != Efficiency:
		c.Measures = Other
	case known:
		c.Measures = unit.measures // a kW column stays power, whatever its heading says
	case named == State || named == Current:
		c.Measures = named
	default:
		c.Measures = Other
		if named != "" {
			return &Question{
				ID: "unit-missing", Column: c.Column, Text: "\"" + c.Column + "\" has no unit.",
				Taken: "plain numbers, of which no event is read", Choices: unitsFor(named), Key: "channels.unit",
			}
		}
	}
	return nil
}

func namedSample(name string) Sample {
	switch {
	case sampleMean.MatchString(name):
		return Mean
	case sampleMax.MatchString(name):
		return Max
	case sampleMin.MatchString(name):
		return Min
	}
	return Unsaid
}

func unitsFor(m Measure) []string {
	switch m {
	case Pressure, Absolute:
		return []string{"bar", "kPa", "psi", "mH2O"}
	case Head, Level:
		return []string{"m", "ft"}
	case Flow, Inflow, Outflow:
		return []string{"L/s", "m3/h", "gpm", "mgd"}
	case Power:
		return []string{"kW", "hp"}
	case Volume:
		return []string{"m3", "gal"}
	case Speed:
		return []string{"rpm"}
	case Efficiency:
		return []string{"%"}
	}
	return []string{"a unit of this measure"}
}

// scaleOf is the factor from the unit of the file to SI.
func (c *MapChannel) scaleOf() (float64, bool) {
	if c.Measures == State || c.Measures == Other || c.Measures == Current {
		return 1, true
	}
	if unit, ok := meaningOf(c.Unit); ok {
		switch {
		case unit.measures == c.Measures,
			unit.measures == Flow && (c.Measures == Inflow || c.Measures == Outflow),
			unit.measures == Level && c.Measures == Head, unit.measures == Head && c.Measures == Level,
			unit.measures == Pressure && c.Measures == Absolute:
			return unit.scale, true
		}
	}
	return 1, false
}
