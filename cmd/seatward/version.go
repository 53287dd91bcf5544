package main

import (
	"fmt"
	"runtime"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/internal/notices"
	"seatward/internal/program"
	"seatward/study"
)

// buildInfo is what a record of a calculation names.
type buildInfo struct {
	program.Program
	Revision string   `json:"revision,omitempty"`
	Form     string   `json:"study_form"`
	Catalogs []string `json:"catalogs"`
	Built    string   `json:"built"`
}

// versionCommand prints what a record of a calculation needs to name.
func (a *app) versionCommand() *cobra.Command {
	var asJSON, licenses bool
	c := &cobra.Command{
		Use:     "version",
		Short:   "Print the version of program and catalog, for records",
		Long:    "Print the version of the program, of the form of its answers and of the catalog\nthat comes with it: a record of a calculation names them all.",
		Example: "seatward version",
		Args:    exactly(0, "no arguments"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		if licenses {
			_, err := a.out.WriteString(notices.Text())
			return err
		}
		b := buildInfo{
			Program: program.This(), Revision: program.Revision(), Form: study.Schema,
			Built: fmt.Sprintf("%s for %s/%s", runtime.Version(), runtime.GOOS, runtime.GOARCH),
		}
		catalogs, list := catalog.Demo()
		if list.Err() != nil {
			return list
		}
		for _, x := range catalogs {
			b.Catalogs = append(b.Catalogs, x.Maker+" "+x.Version)
		}
		if asJSON {
			return a.printJSON(b)
		}
		fmt.Fprintf(&a.out, "seatward %s\n", b.Version)
		if b.Revision != "" {
			fmt.Fprintf(&a.out, "revision %s\n", b.Revision)
		}
		for _, name := range b.Catalogs {
			fmt.Fprintf(&a.out, "catalog  %s\n", name)
		}
		fmt.Fprintf(&a.out, "form     %s\nbuilt    %s\n", b.Form, b.Built)
		return nil
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON for machines")
	c.Flags().BoolVar(&licenses, "licenses", false, "print the licenses of what the program is made with")
	c.MarkFlagsMutuallyExclusive("json", "licenses")
	return c
}
