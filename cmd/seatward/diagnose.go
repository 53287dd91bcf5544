package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diagnosis"
	"seatward/internal/levels"
	"seatward/internal/render/text"
	"seatward/internal/site"
	"seatward/judge"
	"seatward/quantity"
	"seatward/station"
	"seatward/study"
)

// troubleFlags are what was noticed and found.
type troubleFlags struct {
	inputs
	seen, when, since, found []string
	sheet                    string
	signs                    bool
	size                     levels.Well
}

// diagnoseCommand goes from a trouble to its cause.
func (a *app) diagnoseCommand() *cobra.Command {
	var in troubleFlags
	c := &cobra.Command{
		Use:   "diagnose [FILE] --seen SIGN",
		Short: "Go from what was seen or heard to the cause, by the next safe test",
		Long: "Go from what was seen or heard at a station to its cause: the causes in order,\n" +
			"each with what speaks for and against it, and the next test, the safest that\n" +
			"tells most, with what each cause would show. --found gives a test's result back\n" +
			"and narrows the answer. --signs lists the signs. With a station FILE (or -) its\n" +
			"own numbers speak too: computed slam of the present valve, back head, velocity,\n" +
			"what can drain back. The order rests on evidence alone: no shares of failure\n" +
			"modes are published, and none is made up. docs/field.md tells how to use it.",
		Example: "seatward diagnose --signs\n" +
			"seatward diagnose examples/study.station.yaml --seen 'bangs twice'\n" +
			"seatward diagnose --seen starts-up --found spin=stands --sheet crew.html",
		Args:              between(0, 1, "at most one station file"),
		ValidArgsFunction: stationFiles,
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.diagnose(c.Context(), args, &in) }
	f := c.Flags()
	f.StringArrayVar(&in.seen, "seen", nil, "what was seen or heard, a `SIGN` of --signs; may be repeated")
	f.StringArrayVar(&in.when, "when", nil, "when in the cycle, a `SIGN` of --signs; may be repeated")
	f.StringArrayVar(&in.since, "since", nil, "since when, a `SIGN` of --signs")
	f.StringArrayVar(&in.found, "found", nil, "what a test gave, `TEST=READING`; may be repeated")
	f.BoolVar(&in.signs, "signs", false, "list the signs and the tests with their readings")
	f.StringVar(&in.sheet, "sheet", "", "write the tests as a page for the crew to `FILE`, HTML that needs no network")
	wellFlags(f, &in.size)
	in.valveFlag(c, "the valve that is there now, by its `ID`; by the station file's words without it")
	in.dataFlags(c)
	in.formFlags(c)
	return c
}

// diagnose answers the command.
func (a *app) diagnose(ctx context.Context, args []string, in *troubleFlags) error {
	book, list := diagnosis.Base()
	if list.Err() != nil {
		return list
	}
	if in.signs {
		return text.Signs(&a.out, book, a.print(quantity.US))
	}
	cs, err := in.read(book)
	if err != nil {
		return err
	}
	d := &site.Trouble{Book: book, Case: cs}
	sys := quantity.US
	if len(args) == 1 {
		if sys, err = a.atStation(ctx, args[0], in, d); err != nil {
			return err
		}
	} else if in.valve != "" || in.size != (levels.Well{}) {
		return errors.New("--valve, --area and --diameter go with a station file: its numbers are computed there")
	} else if sys, err = in.system(sys); err != nil {
		return err
	}
	d.Answer = book.Weigh(cs)
	if in.sheet != "" {
		page, err := site.Sheet(d.Name, &d.Answer, d.Facts)
		if err != nil {
			return err
		}
		if err := write(in.sheet, page); err != nil {
			return err
		}
	}
	if in.json {
		return a.printJSON(d.Form())
	}
	return text.Diagnose(&a.out, d, a.print(sys))
}

// read reads signs and findings.
func (in *troubleFlags) read(book *diagnosis.Book) (*diagnosis.Case, error) {
	c := &diagnosis.Case{Found: map[string]string{}}
	for _, group := range []struct {
		name string
		said []string
	}{{"seen", in.seen}, {"when", in.when}, {"since", in.since}} {
		for _, s := range group.said {
			id, err := book.FindSign(group.name, s)
			if err != nil {
				return nil, fmt.Errorf("--%s: %w", group.name, err)
			}
			c.Signs = append(c.Signs, id)
		}
	}
	for _, s := range in.found {
		test, reading, err := book.ParseFound(s)
		if err != nil {
			return nil, fmt.Errorf("--found: %w", err)
		}
		if before, twice := c.Found[test]; twice && before != reading {
			return nil, fmt.Errorf("--found: the test %s is given with two readings, %s and %s; do it again", test, before, reading)
		}
		c.Found[test] = reading
	}
	if len(c.Signs)+len(c.Found) == 0 {
		return nil, errors.New("nothing was seen or heard; give --seen, such as --seen 'bangs twice' (seatward diagnose --signs lists all)")
	}
	return c, nil
}

// atStation adds the numbers of the station.
func (a *app) atStation(ctx context.Context, file string, in *troubleFlags, d *site.Trouble,
) (quantity.System, error) {
	st, err := a.station(file)
	if err != nil {
		return 0, err
	}
	shown := *st
	if shown.Units, err = in.system(st.Units); err != nil {
		return 0, err
	}
	opt, err := a.options(&in.inputs)
	if err != nil {
		return 0, err
	}
	area, err := in.size.Read(in.how())
	if err != nil {
		return 0, ofFlag(err)
	}
	there := site.Place{Valve: opt.Valve, Catalogs: opt.Catalogs, Area: area}
	err = d.At(&shown, there, func(valve string) (*judge.Assessment, error) {
		opt.Valve = valve
		return a.judged(ctx, &shown, opt)
	})
	var unknown *catalog.NotFoundError
	if err != nil && !errors.As(err, &unknown) {
		return 0, fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	return shown.Units, err
}

// judged judges the valve that is there now; nil where no pump delivers.
func (a *app) judged(ctx context.Context, st *station.Station, opt study.Options) (*judge.Assessment, error) {
	done := a.watch(&opt, false)
	s, err := study.Run(ctx, st, opt)
	done()
	switch {
	case errors.Is(err, study.ErrNoFlow):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return &s.Assessments[0], nil
}
