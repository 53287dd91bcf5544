// Package standards says which of the standards that people quote apply to a valve, which
// apply in part, which do not, and what to specify instead; and reads a specification
// clause for those that do not fit.
package standards

import (
	_ "embed"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"seatward/catalog"
	"seatward/diag"
	"seatward/fluid"
	"seatward/internal/condition"
	"seatward/internal/yamlfile"
	"seatward/valve"
)

//go:embed standards.yaml
var baseFile []byte

// File is a file of standards as written.
type File struct {
	Standards []StandardFile `yaml:"standards" need:"true" doc:"Standards that people quote"`
}

// StandardFile is one standard.
type StandardFile struct {
	ID         yamlfile.Word   `yaml:"id" need:"true" doc:"Its number"`
	Title      yamlfile.Word   `yaml:"title" need:"true" doc:"What it is about (not quoted)"`
	About      yamlfile.Word   `yaml:"about" one:"product|test|coating|length|flange|thread|material|drinking water|backflow|installation" need:"true" doc:"What it fixes"`
	Match      yamlfile.Word   `yaml:"match" need:"true" doc:"How it is written in specifications, a regular expression; an edition may follow"`
	Editions   []yamlfile.Word `yaml:"editions" doc:"Editions, the current one first"`
	Withdrawn  yamlfile.Word   `yaml:"withdrawn" doc:"What took its place, where it was withdrawn"`
	Scope      yamlfile.Word   `yaml:"scope" need:"true" doc:"Summary of what it covers (not quoted)"`
	Applies    yamlfile.Word   `yaml:"applies" doc:"Condition in CEL under which it applies"`
	Partly     yamlfile.Word   `yaml:"partly" doc:"Condition in CEL under which it applies in part"`
	Part       yamlfile.Word   `yaml:"part" doc:"Which part"`
	Instead    yamlfile.Word   `yaml:"instead" doc:"What to ask for where it does not apply"`
	ShellTest  yamlfile.Num    `yaml:"shell_test_factor" min:"1" doc:"Shell test pressure over rated pressure that it asks for"`
	SeatTest   yamlfile.Num    `yaml:"seat_test_factor" min:"0" doc:"Seat test pressure over rated pressure that it asks for"`
	Horizontal yamlfile.Word   `yaml:"horizontal_only" one:"yes|no" doc:"It covers horizontal pipes only"`
	Source     yamlfile.Word   `yaml:"source" need:"true" doc:"Where this comes from"`
	Status     yamlfile.Word   `yaml:"status" one:"seen|from memory" need:"true" doc:"How sure it is"`
}

// Standard is one standard that people quote.
type Standard struct {
	ID, Title, About, Scope, Part, Instead, Source, Status, Withdrawn string
	Editions                                                          []string
	HorizontalOnly                                                    bool
	ShellTest, SeatTest                                               float64 // factors on the rating; 0 where it has none

	match           *regexp.Regexp
	applies, partly *condition.Condition
}

var language = func() *condition.Language {
	l, err := condition.NewLanguage([]condition.Fact{
		{Name: "valve_type", Kind: condition.Text},
		{Name: "style", Kind: condition.Text},
		{Name: "lever", Kind: condition.YesNo},
		{Name: "ball", Kind: condition.YesNo},
		{Name: "swing", Kind: condition.YesNo},
		{Name: "nps", Kind: condition.Number},
		{Name: "position", Kind: condition.Text},
		{Name: "service", Kind: condition.Text},
		{Name: "drinking", Kind: condition.YesNo},
		{Name: "flanged", Kind: condition.YesNo},
		{Name: "wafer", Kind: condition.YesNo},
		{Name: "threaded", Kind: condition.YesNo},
		{Name: "iron", Kind: condition.YesNo},
		{Name: "gray", Kind: condition.YesNo},
		{Name: "ductile", Kind: condition.YesNo},
	})
	if err != nil {
		panic("standards: " + err.Error())
	}
	return l
}()

// Read reads a file of standards. The list holds every fault.
func Read(filename string, data []byte) ([]Standard, diag.List) {
	f := &File{}
	list := yamlfile.Decode(filename, data, f)
	var out []Standard
	for i := range f.Standards {
		s, faults := f.Standards[i].standard()
		list = append(list, faults...)
		if slices.ContainsFunc(out, func(o Standard) bool { return o.ID == s.ID }) {
			list.Add(diag.Message{
				ID: "standard-twice", Place: f.Standards[i].ID.Place,
				Text: fmt.Sprintf("%q stands twice", s.ID), Expected: "each once", Mend: "remove one",
			})
		}
		out = append(out, s)
	}
	list.Sort()
	return out, list
}

func (f *StandardFile) standard() (Standard, diag.List) {
	s := Standard{
		ID: f.ID.Text, Title: f.Title.Text, About: f.About.Text, Scope: f.Scope.Text, Part: f.Part.Text,
		Instead: f.Instead.Text,
		Source:  f.Source.Text, Status: f.Status.Text, Withdrawn: f.Withdrawn.Text, HorizontalOnly: f.Horizontal.Yes(),
		ShellTest: f.ShellTest.Value, SeatTest: f.SeatTest.Value,
	}
	for _, e := range f.Editions {
		s.Editions = append(s.Editions, e.Text)
	}
	var list diag.List
	var err error
	if s.match, err = regexp.Compile(`(?i)(?:` + f.Match.Text + `)(?:\s*[-:/]\s*(\d{4}|\d{2})\b)?`); err != nil {
		list.Add(diag.Message{
			ID: "match-unreadable", Place: f.Match.Place, Path: f.Match.Path, Text: err.Error(),
			Expected: "a regular expression", Mend: "mend it",
		})
	}
	for _, c := range []struct {
		word yamlfile.Word
		into **condition.Condition
	}{{f.Applies, &s.applies}, {f.Partly, &s.partly}} {
		if c.word.Set {
			made, faults := language.Compile(c.word)
			*c.into, list = made, append(list, faults...)
		}
	}
	return s, list
}

// Base is the standards that come with Seatward; the list is empty, as a test holds.
var Base = sync.OnceValues(func() ([]Standard, diag.List) { return Read("standards/standards.yaml", baseFile) })

// Place is where a valve stands, as far as it is given.
type Place struct {
	Position string // "" where not known
	Service  fluid.Service
}

// facts are what is known of the valve in its place.
func facts(it *catalog.Item, at Place) map[string]any {
	f := it.Family
	traits := &f.Type.Traits
	known := map[string]any{
		"valve_type": f.Type.Key, "style": string(traits.Style), "lever": traits.Lever,
		"ball": traits.Style == valve.StyleBall, "swing": traits.Style == valve.StyleSwing, "nps": it.Size.NPS(),
		"flanged": false, "wafer": false, "threaded": false,
	}
	for _, e := range f.Ends {
		name := strings.ToLower(e.Standard)
		switch {
		case !e.Covers(it.Size):
		case strings.Contains(name, "wafer"):
			known["wafer"] = true
		case strings.Contains(name, "thread"), strings.Contains(name, "npt"):
			known["threaded"] = true
		default:
			known["flanged"] = true
		}
	}
	if f.Body.Material != "" {
		body := strings.ToLower(f.Body.Material)
		known["iron"], known["gray"], known["ductile"] = strings.Contains(body, "iron"), strings.Contains(body,
			"gray iron"), strings.Contains(body, "ductile iron")
	}
	if at.Position != "" {
		known["position"] = at.Position
	} else if len(it.Positions) == 1 {
		known["position"] = it.Positions[0].String()
	}
	if at.Service != "" {
		known["service"], known["drinking"] = string(at.Service), at.Service.Drinking()
	}
	return known
}

// Verdict says how a standard stands to a valve.
type Verdict uint8

// The verdicts.
const (
	Applies Verdict = iota
	InPart
	DoesNot
	Hangs // depends on a fact that is not given
)

// String gives the words of the verdict.
func (v Verdict) String() string {
	return [...]string{"applies", "applies in part", "does not apply", "cannot be said"}[v]
}

// Said is what is said of one standard.
type Said struct {
	Standard *Standard
	Verdict  Verdict
	Text     string   // which part, or what to specify instead
	Hangs    []string // facts that are missing
}

// Judge says of every standard how it stands to the valve.
func Judge(all []Standard, it *catalog.Item, at Place) []Said {
	known := facts(it, at)
	var out []Said
	for i := range all {
		out = append(out, all[i].judge(known))
	}
	return out
}

func (s *Standard) judge(known map[string]any) Said {
	out := Said{Standard: s, Verdict: DoesNot, Text: s.Instead}
	answer := func(c *condition.Condition) condition.Answer {
		if c == nil {
			return condition.No
		}
		a, err := c.Answer(known)
		if err != nil {
			return condition.Open
		}
		if a == condition.Open {
			out.Hangs = c.Missing(known)
		}
		return a
	}
	applies := answer(s.applies)
	if applies == condition.Yes {
		out.Verdict, out.Text = Applies, ""
		return out
	}
	switch partly := answer(s.partly); {
	case applies == condition.Open, partly == condition.Open:
		out.Verdict, out.Text = Hangs, ""
	case partly == condition.Yes:
		out.Verdict, out.Text = InPart, s.Part
	}
	return out
}
