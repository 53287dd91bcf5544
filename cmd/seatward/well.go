package main

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"seatward/internal/levels"
)

// wellFlags are the flags of a wet well's size.
func wellFlags(f *pflag.FlagSet, w *levels.Well) {
	f.StringVar(&w.Area, "area", "", "`AREA` of the water surface in the wet well")
	f.StringVar(&w.Diameter, "diameter", "", "inside `DIAMETER` of a round wet well, in place of its area")
}

// how flags of a measurement are read.
func (in *inputs) how() levels.How {
	return levels.How{Reading: in.reading(), Place: "the command line"}
}

// ofFlag puts the name of the flag before what is wrong with it.
func ofFlag(err error) error {
	var at *levels.FieldError
	if errors.As(err, &at) {
		return fmt.Errorf("--%s: %w", at.Field, err)
	}
	return err
}
