package main

import (
	"bytes"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"seatward/diag"
	"seatward/internal/inquiry"
	"seatward/quantity"
	"seatward/station"
)

// newCommand writes a commented station file to start from.
func (a *app) newCommand() *cobra.Command {
	var in inputs
	var out, letter string
	c := &cobra.Command{
		Use:   "new",
		Short: "Write a commented station file to start from",
		Long: "Write a commented station file to start from: to standard output, or to the\n" +
			"file named by -o, which must not exist yet. It can be answered as it stands;\n" +
			"what is not known may be left out.\n\n" +
			"With --from-text the numbers are those of a letter or mail: each stands with\n" +
			"its phrase, what is in doubt as a comment with its choices, and what the text\n" +
			"does not say is named. Check all of it: the program only reads.",
		Example: "seatward new --units SI\n" +
			"seatward new --from-text examples/inquiry.txt",
		Args: exactly(0, "no arguments (write -o FILE to name the file)"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		text := station.Starter(sys)
		if letter != "" {
			if text, err = a.fromText(letter, in.units != "", sys); err != nil {
				return err
			}
		}
		if out == "" || out == "-" {
			a.out.WriteString(text)
			return nil
		}
		if err := write(out, []byte(text)); err != nil {
			return err
		}
		a.complain("wrote " + out + "; fill it in, then: seatward select " + out)
		return nil
	}
	c.Flags().StringVar(&in.units, "units", "", "units of the numbers in it, `US or SI`; US without it")
	c.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write, which must not exist yet")
	c.Flags().StringVar(&letter, "from-text", "",
		"`FILE` of a letter or mail to take the numbers from, - for standard input")
	return c
}

// fromText is the station file of a letter; of one in which nothing is found there is none.
func (a *app) fromText(name string, stated bool, sys quantity.System) (string, error) {
	data, err := a.readUpTo(name, inquiry.MostBytes)
	if err != nil {
		return "", err
	}
	if !utf8.Valid(data) || bytes.ContainsRune(data, 0) {
		return "", diag.List{{
			ID: "text-not-plain", Place: diag.Place{File: shown(name), Line: 1, Col: 1}, Text: "the letter is not plain text",
			Expected: "UTF-8 text", Mend: "copy the text out of the mail or document and save it as plain text",
		}}
	}
	l := inquiry.Read(string(data))
	if len(l.Finds) == 0 {
		return "", diag.List{{
			ID: "text-empty", Place: diag.Place{File: shown(name), Line: 1, Col: 1},
			Text:     "nothing that a station file asks was found in the letter",
			Expected: "quantities with units and words of the trade, such as 2 pumps, 350 gpm at 62 ft TDH",
			Mend:     "add them, or start from: seatward new",
		}}
	}
	if stated {
		l.Units = sys
	}
	return l.File(shown(name)), nil
}
