package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"seatward/basis"
	"seatward/catalog"
	"seatward/diagnosis"
	"seatward/internal/program"
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
	size                     wellSize
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
	in.size.flags(f)
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
	d := &text.Diagnosis{Book: book, Case: cs}
	sys := quantity.US
	if len(args) == 1 {
		if sys, err = a.atStation(ctx, args[0], in, d); err != nil {
			return err
		}
	} else if in.valve != "" || in.size != (wellSize{}) {
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
		return a.printJSON(diagnosisJSON(d))
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
func (a *app) atStation(ctx context.Context, file string, in *troubleFlags, d *text.Diagnosis,
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
	area, err := in.size.read(&in.inputs)
	if err != nil {
		return 0, err
	}
	numbers, err := site.Of(&shown)
	if err != nil {
		return 0, fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	d.Name, d.Existing = shown.Name, shown.Valve.Existing
	valve, err := a.present(ctx, &shown, opt, d)
	if err != nil {
		return 0, err
	}
	d.Facts = site.FactsOf(&shown, numbers, valve)
	d.Facts.Well(area, numbers, shown.Units)
	d.Case.Facts, d.Case.Words = d.Facts.Known, d.Facts.Words
	return shown.Units, nil
}

// present judges the valve that is there now; nil where it is not known, or no pump delivers.
func (a *app) present(ctx context.Context, st *station.Station, opt study.Options, d *text.Diagnosis,
) (*judge.Assessment, error) {
	if opt.Valve == "" {
		it := site.Present(st, opt.Catalogs)
		if it == nil {
			return nil, nil
		}
		opt.Valve, d.Guessed = it.ID, true
	}
	done := a.watch(&opt, false)
	s, err := study.Run(ctx, st, opt)
	done()
	var unknown *catalog.NotFoundError
	switch {
	case errors.Is(err, study.ErrNoFlow):
		d.NoFlow = true
		return nil, nil
	case errors.As(err, &unknown):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	d.Valve = &s.Assessments[0]
	return d.Valve, nil
}

// diagnosisSchema names the machine form of a diagnosis.
const diagnosisSchema = "seatward.diagnosis/1"

// diagnosisForm is the machine form of a diagnosis.
type diagnosisForm struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Station string          `json:"station,omitempty"`
	Valve   string          `json:"present_valve,omitempty" jsonschema_description:"ID of the valve of the catalog that stands for the one there now"`
	Order   string          `json:"order" jsonschema_description:"What the order of the causes rests on"`
	Signs   []string        `json:"signs"`
	Found   []foundLine     `json:"found"`
	Causes  []causeLine     `json:"causes" jsonschema_description:"The most likely first"`
	Next    []testLine      `json:"next_tests" jsonschema_description:"The next one first"`
	Facts   []factLine      `json:"facts"`
	Sources []string        `json:"references"`
}

type foundLine struct {
	Test    string `json:"test"`
	Reading string `json:"reading"`
}

type causeLine struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Standing string   `json:"standing" jsonschema:"enum=strongly supported,enum=supported,enum=cannot be excluded,enum=less likely,enum=ruled out by a test"`
	For      []string `json:"for"`
	Against  []string `json:"against"`
	Shows    []string `json:"would_show"`
	Lacking  []string `json:"not_known"`
	Source   string   `json:"source"`
	Status   string   `json:"status"`
}

type testLine struct {
	ID      string        `json:"id"`
	Title   string        `json:"title"`
	Safety  string        `json:"safety" jsonschema:"enum=no entry,enum=control panel,enum=gauge fitted,enum=lock-out,enum=opened up"`
	Steps   string        `json:"steps"`
	Expects []showingLine `json:"expects"`
}

type showingLine struct {
	Reading string   `json:"reading"`
	Text    string   `json:"text"`
	Causes  []string `json:"causes"`
}

type factLine struct {
	Name  string  `json:"name"`
	Title string  `json:"title"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Basis string  `json:"basis"`
}

func diagnosisJSON(d *text.Diagnosis) diagnosisForm {
	out := diagnosisForm{
		Schema: diagnosisSchema, Program: program.This(), Station: d.Name, Order: diagnosis.NoShares,
		Signs: noNull(d.Case.Signs), Found: []foundLine{}, Causes: []causeLine{}, Next: []testLine{},
		Facts:   []factLine{},
		Sources: noNull(d.References()),
	}
	if d.Valve != nil {
		out.Valve = d.Valve.Item.ID
	}
	for i := range d.Book.Tests {
		if r, ok := d.Case.Found[d.Book.Tests[i].ID]; ok {
			out.Found = append(out.Found, foundLine{d.Book.Tests[i].ID, r})
		}
	}
	for i := range d.Answer.Causes {
		w := &d.Answer.Causes[i]
		out.Causes = append(out.Causes, causeLine{
			w.Cause.ID, w.Cause.Title, string(w.Standing), noNull(w.For), noNull(w.Against), noNull(w.Shows),
			noNull(w.Lacking),
			basis.Cite(w.Cause.Source), w.Cause.Status,
		})
	}
	for _, n := range d.Answer.Next {
		t := n.Test
		line := testLine{t.ID, t.Title, t.Safety, t.Steps, []showingLine{}}
		for _, s := range n.Expects {
			line.Expects = append(line.Expects, showingLine{s.Reading.ID, s.Reading.Text, noNull(s.Causes)})
		}
		out.Next = append(out.Next, line)
	}
	if d.Facts != nil {
		for _, f := range d.Facts.Numbers {
			v := f.Value
			out.Facts = append(out.Facts, factLine{f.Name, v.Name, v.SI, v.Kind.Symbol(), v.Origin.String()})
		}
	}
	return out
}

// noNull is a list that is never null.
func noNull(in []string) []string { return append([]string{}, in...) }
