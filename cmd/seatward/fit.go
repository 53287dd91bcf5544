package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"seatward/fit"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/rules"
)

// fitCommand says what goes in where an old valve was.
func (a *app) fitCommand() *cobra.Command {
	var in inputs
	var old fit.Old
	var all bool
	said := map[string]*string{}
	c := &cobra.Command{
		Use:   "fit",
		Short: "Say what goes in where an old valve was, from tape measurements",
		Long: "Say what an old valve probably is when its name-plate is gone, by what a tape\n" +
			"can measure, with near misses; and which valves of the catalog go in its place:\n" +
			"gap to fill or length to cut, drilling, position, height to lift the cover and\n" +
			"element, straight pipe, and change of weight. Give what you have; the rest is\n" +
			"asked for.",
		Example: "seatward fit --flange-od '11 in' --bolt-circle '9.5 in' --bolts 8",
		Args:    exactly(0, "no arguments, only measurements"),
	}
	lengths := []struct {
		flag, usage string
		into        *float64
	}{
		{"bore", "inside diameter `LENGTH`", &old.BoreM},
		{"face-to-face", "`LENGTH` between the flange faces", &old.FaceToFaceM},
		{"flange-od", "outside diameter of the flange, `LENGTH`", &old.OutsideM},
		{
			"bolt-circle", "diameter of the circle of bolts, center to center of opposite ones, `LENGTH`",
			&old.BoltCircleM,
		},
		{"bolt-size", "diameter of the bolts, `LENGTH`, such as '3/4 in' or '20 mm'", &old.BoltM},
		{"hole", "diameter of the bolt holes, `LENGTH`", &old.HoleM},
		{"cover-height", "height of the old valve's cover over the axis, `LENGTH`", &old.CoverM},
		{"clearance", "free height over the axis, `LENGTH`", &old.ClearanceM},
		{"straight-before", "straight pipe before the valve, `LENGTH`", &old.StraightM},
		{"within", "how well the tape was read, `LENGTH`; 2 mm without it", &old.WithinM},
	}
	for _, l := range lengths {
		said[l.flag] = c.Flags().String(l.flag, "", l.usage)
	}
	c.Flags().IntVar(&old.Bolts, "bolts", 0, "`number` of bolts in a flange")
	mass := c.Flags().String("mass", "", "`MASS` of the old valve")
	position := c.Flags().String("position", "", "`position`: horizontal, flow up or flow down")
	_ = c.RegisterFlagCompletionFunc("position",
		cobra.FixedCompletions(positionNames(), cobra.ShellCompDirectiveNoFileComp))
	c.Flags().BoolVar(&all, "all", false, "print every valve of the size, with all its points")
	in.dataFlags(c)
	in.ruleFlags(c)
	in.formFlags(c)
	c.RunE = func(*cobra.Command, []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		for _, l := range lengths {
			if err := length("--"+l.flag, *said[l.flag], quantity.Diameter, in.reading(), l.into); err != nil {
				return err
			}
		}
		if err := length("--mass", *mass, quantity.Mass, in.reading(), &old.MassKg); err != nil {
			return err
		}
		if *position != "" {
			p, err := positionFlag(*position)
			if err != nil {
				return err
			}
			old.Position = &p
		}
		if err := possible(&old); err != nil {
			return err
		}
		catalogs, err := a.catalogs(in.catalogs)
		if err != nil {
			return err
		}
		book, err := a.book(in.rules)
		if err != nil {
			return err
		}
		// What is pumped is not known here: those of sewage and of drinking water go with it.
		cautions := book.CautionsWhen(map[string]bool{
			"always": true, "vault": true, "heavy": true, "sewage": true,
			"drinking water": true,
		})
		answer := fit.Find(old, catalogs, sys)
		if in.json {
			return a.printJSON(fitJSON(&answer, sys, cautions))
		}
		opt := a.print(sys)
		opt.All = all
		return text.Fit(&a.out, &answer, cautions, opt)
	}
	return c
}

// length reads one measurement, where it was given.
func length(flag, said string, kind quantity.Kind, as quantity.Reading, into *float64) error {
	if said == "" {
		return nil
	}
	q, err := as.Parse(kind, said)
	if err == nil && !(q.SI > 0 && q.SI < 1e6) {
		err = fmt.Errorf("%q: a %s above zero is expected", said, kind)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", flag, err)
	}
	*into = q.SI
	return nil
}

// possible tells measurements that cannot be of one flange, and that some are needed.
func possible(old *fit.Old) error {
	switch {
	case old.OutsideM == 0 && old.BoltCircleM == 0 && old.BoreM == 0 && old.FaceToFaceM == 0:
		return errors.New("nothing to go by: give at least one of --flange-od, --bolt-circle, --bore and --face-to-face")
	case old.Bolts < 0 || old.Bolts == 1 || old.Bolts > 100:
		return fmt.Errorf("--bolts %d: a flange has 4 to 64", old.Bolts)
	case old.OutsideM > 0 && old.BoltCircleM >= old.OutsideM:
		return errors.New("the bolt circle is wider than the flange: the bolt circle is measured from center to center of opposite bolts")
	case old.BoltCircleM > 0 && old.BoreM >= old.BoltCircleM:
		return errors.New("the bore is wider than the bolt circle")
	case old.ClearanceM > 0 && old.CoverM > old.ClearanceM:
		return errors.New("the cover of the old valve stands higher than what is free: both are measured from the axis")
	case old.HoleM > 0 && old.BoltM > old.HoleM:
		return errors.New("the bolts are thicker than their holes")
	}
	if old.WithinM == 0 {
		old.WithinM = 0.002
	}
	return nil
}

// fitSchema names the machine form of a fit.
const fitSchema = "seatward.fit/1"

// fitForm is the machine form of a fit.
type fitForm struct {
	Schema   string          `json:"schema"`
	Program  program.Program `json:"program"`
	Guesses  []guessForm     `json:"old_valve"`
	Valves   []placeForm     `json:"valves"`
	Assumed  []string        `json:"assumed"`
	Cautions []string        `json:"cautions"`
}

type guessForm struct {
	Size    string       `json:"size"`
	Near    bool         `json:"near_miss"`
	Bore    string       `json:"bore,omitempty"`
	Flanges []flangeForm `json:"flanges"`
	Lengths []lengthForm `json:"lengths"`
}

type flangeForm struct {
	Standard string   `json:"standard"`
	Misses   []string `json:"misses"`
	Source   string   `json:"source"`
	Status   string   `json:"status"`
}

type lengthForm struct {
	Standard string  `json:"standard"`
	LengthM  float64 `json:"length_m"`
	OffM     float64 `json:"off_m"`
	Source   string  `json:"source"`
	Status   string  `json:"status"`
	Doubt    string  `json:"sources_disagree,omitempty"`
}

type placeForm struct {
	ID     string      `json:"id"`
	Word   string      `json:"word"`
	Ends   string      `json:"ends,omitempty"`
	GapM   float64     `json:"gap_m"`
	Points []pointForm `json:"points"`
}

type pointForm struct {
	Kind  string `json:"kind"`
	About string `json:"about"`
	Text  string `json:"text"`
	Basis string `json:"basis,omitempty"`
}

func fitJSON(a *fit.Answer, sys quantity.System, cautions []rules.Caution) fitForm {
	out := fitForm{
		Schema: fitSchema, Program: program.This(), Guesses: []guessForm{}, Valves: []placeForm{},
		Assumed: a.Old.Allowances(sys), Cautions: cautionTexts(cautions),
	}
	for _, g := range a.Guesses {
		f := guessForm{
			Size: g.Size.String(), Near: g.Near, Bore: g.Bore, Flanges: []flangeForm{},
			Lengths: []lengthForm{},
		}
		for _, x := range g.Flanges {
			f.Flanges = append(f.Flanges, flangeForm{
				x.Flange.Standard, append([]string{}, x.Misses...),
				x.Flange.Source, x.Flange.Status,
			})
		}
		for _, x := range g.Lengths {
			f.Lengths = append(f.Lengths, lengthForm{
				x.Length.Standard, x.Length.Middle(), round6(x.OffM),
				x.Length.Source, x.Length.Status, x.Doubt,
			})
		}
		out.Guesses = append(out.Guesses, f)
	}
	for i := range a.Valves {
		v := &a.Valves[i]
		f := placeForm{ID: v.Item.ID, Word: v.Worst().String(), Ends: v.Ends, GapM: round6(v.GapM)}
		for _, p := range v.Points {
			f.Points = append(f.Points, pointForm{p.Kind.String(), p.About, p.Text, p.Basis})
		}
		out.Valves = append(out.Valves, f)
	}
	return out
}

// round6 rounds to a micrometer: what is below is noise of subtraction.
func round6(x float64) float64 { return math.Round(x*1e6) / 1e6 }
