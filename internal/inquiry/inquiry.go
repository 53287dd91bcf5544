// Package inquiry reads the text of a letter or mail for what a station file asks: quantities
// and words of the trade, each with the phrase it was found in, the field that it would fill,
// and whether it is sure. It takes nothing by itself: whoever shows the finds has them
// confirmed.
package inquiry

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"seatward/quantity"
)

// mostFinds is how much of one text is shown.
const mostFinds = 200

// MostBytes is the longest text that is read.
const MostBytes = 100_000

// Find is something that the text says and a station file has a field for.
type Find struct {
	Start, End int    // of the phrase, in bytes
	Phrase     string // as it stands
	Path       string // of the field
	Value      string // as the field takes it
	Quantity   quantity.Quantity
	Doubt      string   // why it is not sure; "" where it is
	Choices    []Choice // of a find in doubt, the likely one first
}

// Choice is one meaning of a find in doubt.
type Choice struct {
	Path, Value, Says string
}

// Skip is a part of the text that was not read, and why.
type Skip struct {
	Start, End int
	Why        string
}

// Letter is what was found in a text.
type Letter struct {
	Finds   []Find
	Missing []string // of what decides the choice, what the text does not say
	Skipped []Skip
	Units   quantity.System // in which most of it is written
}

// Read reads a text. Whatever cannot be read as one thing is left out or in doubt; offsets are
// those of the text as it was given.
func Read(text string) *Letter {
	if len(text) > MostBytes {
		cut := MostBytes
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		text = text[:cut]
	}
	r := newReader(text)
	r.pumps()
	r.quantities()
	r.words()
	r.existing()
	out := &Letter{Skipped: r.skipped(), Units: r.units()}
	out.Finds = withValveSize(settled(r.finds))
	out.confirm()
	out.Missing = missing(out.Finds)
	return out
}

// add keeps a find that is sure.
func (r *reader) add(start, end int, path, value string, q quantity.Quantity) {
	r.keep(Find{Start: start, End: end, Path: path, Value: value, Quantity: q})
}

// doubt keeps a find with what it may mean.
func (r *reader) doubt(start, end int, why string, q quantity.Quantity, choices ...Choice) {
	r.keep(Find{
		Start: start, End: end, Path: choices[0].Path, Value: choices[0].Value, Quantity: q, Doubt: why,
		Choices: choices,
	})
}

func (r *reader) keep(f Find) {
	for f.Start < f.End && !letter(r.flat[f.Start]) && !digit(r.flat[f.Start]) {
		f.Start++
	}
	for f.End > f.Start && r.flat[f.End-1] == ' ' && r.text[f.End-1] == ' ' {
		f.End--
	}
	for f.End < len(r.text) && !utf8.RuneStart(r.text[f.End]) {
		f.End++
	}
	for f.Start > 0 && !utf8.RuneStart(r.text[f.Start]) {
		f.Start--
	}
	if f.Phrase = r.text[f.Start:f.End]; f.Phrase == "" || len(r.finds) >= mostFinds {
		return
	}
	r.finds = append(r.finds, f)
}

// settled leaves of finds that say the same the first, and puts those of one field that say
// different things in doubt.
func settled(finds []Find) []Find {
	sort.SliceStable(finds, func(i, j int) bool {
		return finds[i].Start < finds[j].Start || finds[i].Start == finds[j].Start && finds[i].Path < finds[j].Path
	})
	values := map[string][]string{}
	for _, f := range finds {
		if f.Doubt == "" && !slices.Contains(values[f.Path], f.Value) {
			values[f.Path] = append(values[f.Path], f.Value)
		}
	}
	var out []Find
	seen := map[string]bool{}
	for _, f := range finds {
		key := f.Path + "\x00" + f.Value + "\x00" + fmt.Sprint(len(f.Choices))
		said := values[f.Path]
		switch {
		case seen[key]:
			continue
		case f.Doubt != "" && len(said) == 1 && allOf(f.Choices, f.Path):
			continue // said plainly elsewhere
		case f.Doubt == "" && len(said) > 1:
			f.Doubt = "the text says " + strings.Join(said, " and ")
			f.Choices = []Choice{{f.Path, f.Value, ""}}
		}
		seen[key] = true
		out = append(out, f)
	}
	return out
}

// withValveSize asks for the size at the valve, without which no station is answered, where
// the text gives that of the main only: it is the same or smaller.
func withValveSize(finds []Find) []Find {
	at := slices.IndexFunc(finds, func(f Find) bool { return f.Path == mainSize && f.Doubt == "" })
	if at < 0 || slices.ContainsFunc(finds, func(f Find) bool { return f.Path == "valve.size" }) {
		return finds
	}
	f := finds[at]
	size, err := quantity.ParseSize(f.Value)
	if err != nil {
		return finds
	}
	f.Path, f.Doubt, f.Choices = "valve.size", "the size at the valve is not said, only that of the main", nil
	all := quantity.Sizes()
	for i := slices.Index(all, size); i >= 0 && len(f.Choices) < 3; i-- {
		value := all[i].Format(quantity.US)
		if strings.HasPrefix(f.Value, "DN") {
			value = all[i].Format(quantity.SI)
		}
		f.Choices = append(f.Choices, Choice{f.Path, value, said(f.Path)})
	}
	return slices.Insert(finds, at+1, f)
}

// allOf is true where all choices are of the field.
func allOf(choices []Choice, path string) bool {
	for _, c := range choices {
		if c.Path != path {
			return false
		}
	}
	return true
}

// blanks are what a first call asks, in its order; one path of each answers it.
var blanks = []struct {
	says  string
	paths []string
}{
	{"liquid", []string{"fluid.kind"}},
	{"number of pumps", []string{"pumps[0].count"}},
	{"flow of one pump", []string{"duty.flow"}},
	{"head or static lift", []string{"duty.head", "duty.static_head", "levels.outlet"}},
	{"size of the pipe at the valve", []string{"valve.size"}},
	{"size of the main", []string{"main.runs[0].size"}},
	{"length of the main", []string{"main.runs[0].length"}},
	{"position of the valve", []string{"valve.position"}},
}

func missing(finds []Find) []string {
	var out []string
	for _, b := range blanks {
		if !slices.ContainsFunc(finds, func(f Find) bool {
			return slices.Contains(b.paths, f.Path) ||
				slices.ContainsFunc(f.Choices, func(c Choice) bool { return slices.Contains(b.paths, c.Path) })
		}) {
			out = append(out, b.says)
		}
	}
	return out
}
