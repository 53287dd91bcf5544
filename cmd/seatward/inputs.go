package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/render/text"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// demoName stands for the catalog that comes with the program among the --catalog files.
const demoName = "demo"

// inputs are the flags that commands have in common: data, units and form.
type inputs struct {
	catalogs, rules []string
	valve, units    string
	json            bool
	quick           bool // the pump stops are left out
	all             bool // the sizes next to the pipe's too
	rows            bool // a terminal shows each valve as it is judged
}

func (in *inputs) dataFlags(c *cobra.Command) {
	c.Flags().StringArrayVar(&in.catalogs, "catalog", nil,
		"catalog `FILE` to choose from in place of the demonstration catalog; the word demo stands for that; may be repeated")
	_ = c.MarkFlagFilename("catalog", "yaml", "yml")
}

func (in *inputs) ruleFlags(c *cobra.Command) {
	c.Flags().StringArrayVar(&in.rules, "rules", nil,
		"rules `FILE` whose limits replace those of the same name; may be repeated")
	_ = c.MarkFlagFilename("rules", "yaml", "yml")
}

func (in *inputs) formFlags(c *cobra.Command) {
	c.Flags().StringVar(&in.units, "units", "", "units of the answer, `US or SI`; those of the station file without it")
	c.Flags().BoolVar(&in.json, "json", false, "print JSON for machines, in SI")
	_ = c.RegisterFlagCompletionFunc("units",
		cobra.FixedCompletions([]string{"US", "SI"}, cobra.ShellCompDirectiveNoFileComp))
}

func (in *inputs) valveFlag(c *cobra.Command, usage string) {
	c.Flags().StringVar(&in.valve, "valve", "", usage)
	_ = c.RegisterFlagCompletionFunc("valve", completeValves)
}

// completeValves completes the IDs of the demonstration catalog.
func completeValves(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	all, _ := catalog.Demo()
	return valveIDs(all), cobra.ShellCompDirectiveNoFileComp
}

// stationFiles completes the names of station files.
func stationFiles(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

func valveIDs(catalogs []*catalog.Catalog) []string {
	var out []string
	for _, c := range catalogs {
		for _, f := range c.Families {
			for _, it := range f.Items {
				out = append(out, it.ID)
			}
		}
	}
	return out
}

// read reads a file, or standard input for "-". What is larger than any file of this
// program may be is refused before it is read.
func (a *app) read(name string) ([]byte, error) { return a.readUpTo(name, yamlfile.MaxBytes) }

// readUpTo is read with a limit of its own.
func (a *app) readUpTo(name string, most int) ([]byte, error) {
	r := a.in
	if name != "-" {
		f, err := open(name)
		if err != nil {
			return nil, unreadable(name, err)
		}
		defer f.Close()
		r = f
	}
	data, err := io.ReadAll(io.LimitReader(r, int64(most)+1))
	if err != nil {
		return nil, unreadable(name, err)
	}
	if len(data) > most {
		return nil, diag.List{{
			ID: "file-too-large", Place: diag.Place{File: shown(name)}, Text: "the file is too large",
			Expected: fmt.Sprintf("at most %d bytes", most), Mend: "keep one station or one product family in a file",
		}}
	}
	return data, nil
}

// unreadable words why a file cannot be read, without saying its name twice.
func unreadable(name string, err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return fmt.Errorf("%s cannot be read: %w", shown(name), err)
}

// shown is how messages call a file.
func shown(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// station loads a station file. Warnings stay with the station.
func (a *app) station(name string) (*station.Station, error) {
	data, err := a.read(name)
	if err != nil {
		return nil, err
	}
	st, list := station.Load(shown(name), data)
	if st == nil {
		return nil, list
	}
	return st, nil
}

// options gathers catalogs and rules.
func (a *app) options(in *inputs) (study.Options, error) {
	opt := study.Options{Valve: in.valve, Quick: in.quick, All: in.all}
	var err error
	if opt.Catalogs, err = a.catalogs(in.catalogs); err != nil {
		return opt, err
	}
	opt.Rules, err = a.book(in.rules)
	return opt, err
}

// book is the base rules with those of the files in place of the same.
func (a *app) book(names []string) (*rules.Book, error) {
	book, list := rules.Base()
	if list.Err() != nil {
		return nil, list
	}
	for _, name := range names {
		data, err := a.read(name)
		if err != nil {
			return nil, err
		}
		f, list := rules.Parse(shown(name), data)
		if list.Err() != nil {
			return nil, list
		}
		if book, list = book.With(f); list.Err() != nil {
			return nil, list
		}
	}
	return book, nil
}

// catalogs are those of the files, or the demonstration catalog where none are named.
func (a *app) catalogs(names []string) ([]*catalog.Catalog, error) {
	var own []string
	demo := len(names) == 0
	for _, n := range names {
		if n == demoName {
			demo = true
		} else {
			own = append(own, n)
		}
	}
	var out, read []*catalog.Catalog
	if len(own) > 0 {
		var err error
		if read, err = a.catalogFiles(own); err != nil {
			return nil, err
		}
	}
	if demo || catalog.CurvesOnly(read) {
		all, list := catalog.Demo()
		if list.Err() != nil {
			return nil, list
		}
		out = append(out, all...)
	}
	out, list := catalog.Join(append(out, read...))
	if list.Err() != nil {
		return nil, list
	}
	return out, twice(out)
}

// twice says which family stands in two catalogs: its IDs would not name one valve.
func twice(catalogs []*catalog.Catalog) error {
	maker := map[string]string{}
	for _, c := range catalogs {
		for _, f := range c.Families {
			if other, found := maker[f.ID]; found {
				return fmt.Errorf("the family %s stands in the catalogs of %s and of %s; give one of them another id, or leave one catalog out", f.ID, other, c.Maker)
			}
			maker[f.ID] = c.Maker
		}
	}
	return nil
}

// catalogFiles reads catalog files.
func (a *app) catalogFiles(names []string) ([]*catalog.Catalog, error) {
	var files []*catalog.File
	var all diag.List
	var sources []catalog.Source
	for _, name := range names {
		data, err := a.read(name)
		if err != nil {
			return nil, err
		}
		sources = append(sources, catalog.Source{Name: shown(name), Data: data})
	}
	for _, p := range catalog.ParseAll(sources) {
		all, files = append(all, p.Faults...), append(files, p.File)
	}
	if all.Err() != nil {
		return nil, all
	}
	catalogs, list := catalog.Resolve(files...)
	if list.Err() != nil {
		return nil, list
	}
	return catalogs, nil
}

// system is the unit system asked for, or the other one where none is.
func (in *inputs) system(otherwise quantity.System) (quantity.System, error) {
	sys, err := quantity.SystemNamed(in.units, otherwise)
	if err != nil {
		return otherwise, fmt.Errorf("--%w", err)
	}
	return sys, nil
}

// reading is how numbers in flags are read: bare ones are taken where --units says in which.
func (in *inputs) reading() quantity.Reading {
	sys, err := quantity.SystemNamed(in.units, quantity.SI)
	if err != nil || in.units == "" {
		return quantity.Reading{}
	}
	return quantity.For(sys)
}

// print are the options by which the text renderer prints.
func (a *app) print(sys quantity.System) text.Options {
	return text.Options{Units: sys, Color: a.color}
}

// study answers for a station file.
func (a *app) study(ctx context.Context, name string, in *inputs) (*study.Study, error) {
	st, err := a.station(name)
	if err != nil {
		return nil, err
	}
	opt, err := a.options(in)
	if err != nil {
		return nil, err
	}
	// Findings are worded in the units of the station: those asked for.
	shown := *st
	if shown.Units, err = in.system(st.Units); err != nil {
		return nil, err
	}
	if in.valve == "" {
		if list := study.SizeMade(opt.Catalogs, &shown); list != nil {
			return nil, list
		}
	}
	done := a.watch(&opt, in.rows)
	s, err := study.Run(ctx, &shown, opt)
	done()
	var unknown *catalog.NotFoundError
	var pack *rules.NoPackError
	switch {
	case errors.Is(err, study.ErrNoFlow), errors.As(err, &unknown), errors.As(err, &pack):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	return s, nil
}
