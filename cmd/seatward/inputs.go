package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// inputs are the flags that commands share: data, units and form.
type inputs struct {
	catalogs, rules []string
	valve, units    string
	json            bool
}

func (in *inputs) flags(c *cobra.Command) {
	c.Flags().StringArrayVar(&in.catalogs, "catalog", nil, "catalog `FILE` to use beside the demonstration catalog; may be repeated")
	c.Flags().StringArrayVar(&in.rules, "rules", nil, "rules `FILE` whose limits replace the usual ones; may be repeated")
	c.Flags().StringVar(&in.units, "units", "", "units of the answer: `US or SI`; by default those of the station file")
	c.Flags().BoolVar(&in.json, "json", false, "print JSON for machines, in SI")
	c.Flags().StringVar(&in.valve, "valve", "", "one valve by its `ID`, such as swing/6in")
	_ = c.RegisterFlagCompletionFunc("valve", func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		all, _ := catalog.Demo()
		return valveIDs(all, prefix), cobra.ShellCompDirectiveNoFileComp
	})
}

// read reads a file, or standard input for "-", up to the size that is read at all.
func (a *app) read(name string) ([]byte, error) {
	var r io.Reader = a.in
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			var p *os.PathError
			if errors.As(err, &p) {
				err = p.Err
			}
			return nil, fmt.Errorf("%s cannot be read: %w", name, err)
		}
		defer f.Close()
		r = f
	}
	data, err := io.ReadAll(io.LimitReader(r, yamlfile.MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", name, err)
	}
	return data, nil
}

// station loads a station file. Warnings stay with the station.
func (a *app) station(name string) (*station.Station, error) {
	data, err := a.read(name)
	if err != nil {
		return nil, err
	}
	if name == "-" {
		name = "standard input"
	}
	st, list := station.Load(name, data)
	if st == nil {
		return nil, list
	}
	return st, nil
}

// options gathers catalogs and rules.
func (a *app) options(in *inputs) (study.Options, error) {
	opt := study.Options{Valve: in.valve}
	demo, list := catalog.Demo()
	if list.Err() != nil {
		return opt, list
	}
	opt.Catalogs = demo
	if len(in.catalogs) > 0 {
		own, err := a.catalogFiles(in.catalogs)
		if err != nil {
			return opt, err
		}
		opt.Catalogs = append(append([]*catalog.Catalog(nil), demo...), own...)
	}
	book, list := rules.Base()
	if list.Err() != nil {
		return opt, list
	}
	for _, name := range in.rules {
		data, err := a.read(name)
		if err != nil {
			return opt, err
		}
		f, list := rules.Parse(name, data)
		if list.Err() != nil {
			return opt, list
		}
		if book, list = book.With(f); list.Err() != nil {
			return opt, list
		}
	}
	opt.Rules = book
	return opt, nil
}

// catalogFiles reads and checks catalog files.
func (a *app) catalogFiles(names []string) ([]*catalog.Catalog, error) {
	var files []*catalog.File
	var all diag.List
	for _, name := range names {
		data, err := a.read(name)
		if err != nil {
			return nil, err
		}
		f, list := catalog.Parse(name, data)
		all = append(all, list...)
		files = append(files, f)
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

// system is the unit system asked for, or that of the station.
func (in *inputs) system(otherwise quantity.System) (quantity.System, error) {
	switch in.units {
	case "":
		return otherwise, nil
	case "US", "us":
		return quantity.US, nil
	case "SI", "si":
		return quantity.SI, nil
	}
	return otherwise, fmt.Errorf("--units %q is not a choice; write US or SI", in.units)
}

// study runs the study of a station file.
func (a *app) study(ctx context.Context, name string, in *inputs) (*study.Study, quantity.System, error) {
	st, err := a.station(name)
	if err != nil {
		return nil, 0, err
	}
	sys, err := in.system(st.Units)
	if err != nil {
		return nil, 0, err
	}
	opt, err := a.options(in)
	if err != nil {
		return nil, 0, err
	}
	shown := *st
	shown.Units = sys
	s, err := study.Run(ctx, &shown, opt)
	if errors.Is(err, study.ErrNoFlow) {
		err = fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	return s, sys, err
}

// write replaces a file in one step: readers see the old one or the whole new one. It
// refuses to overwrite.
func write(name string, data []byte) error {
	if _, err := os.Lstat(name); err == nil {
		return fmt.Errorf("%s exists already; choose another name, or remove it first", name)
	}
	temp, err := os.CreateTemp(filepath.Dir(name), ".seatward-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	defer os.Remove(temp.Name())
	if _, err := temp.Write(data); err != nil {
		temp.Close()
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	if err := errors.Join(temp.Chmod(0o644), temp.Sync(), temp.Close()); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	if err := os.Rename(temp.Name(), name); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	return nil
}
