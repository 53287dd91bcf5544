package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/invopop/jsonschema"
	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/chart"
	"seatward/internal/document"
	"seatward/internal/exchange"
	"seatward/internal/fieldlog"
	"seatward/internal/render/text"
	"seatward/internal/site"
	"seatward/internal/web"
	"seatward/internal/yamlfile"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// schemas are the forms that are published, by name.
var schemas = []struct {
	name string
	make func() ([]byte, error)
}{
	{"station", func() ([]byte, error) {
		return yamlfile.Schema(station.File{}, "Seatward station file, form "+station.Form)
	}},
	{"catalog", func() ([]byte, error) {
		return yamlfile.Schema(catalog.File{}, "Seatward catalog file, form "+catalog.Form)
	}},
	{"rules", func() ([]byte, error) { return yamlfile.Schema(rules.File{}, "Seatward rules file, form "+rules.Form) }},
	{"map", func() ([]byte, error) {
		return yamlfile.Schema(exchange.MapFile{}, "Seatward column map, form "+exchange.MapForm)
	}},
	{"profile", func() ([]byte, error) {
		return yamlfile.Schema(document.ProfileFile{}, "Seatward profile, form "+document.ProfileForm)
	}},
	{"wording", func() ([]byte, error) {
		return yamlfile.Schema(document.WordingFile{}, "Seatward wording file, form "+document.WordingForm)
	}},
	{"logmap", func() ([]byte, error) {
		return yamlfile.Schema(fieldlog.MapFile{}, "Seatward log map, form "+fieldlog.MapForm)
	}},
	{"log", func() ([]byte, error) {
		return outputSchema(&chart.Log{}, "Answer of seatward log, form "+chart.LogSchema)
	}},
	{"calibration", func() ([]byte, error) {
		return outputSchema(&chart.Calibration{}, "Answer of seatward calibrate, form "+chart.CalibrationSchema)
	}},
	{"study", study.JSONSchema},
	{"trip", study.TripJSONSchema},
	{"trips", study.TripsJSONSchema},
	{"loss", func() ([]byte, error) {
		return outputSchema(&chart.Loss{}, "Answer of seatward loss, form "+chart.LossSchema)
	}},
	{"closing", func() ([]byte, error) {
		return outputSchema(&chart.Closing{}, "Answer of seatward closing, form "+chart.ClosingSchema)
	}},
	{"closings", func() ([]byte, error) {
		return outputSchema(&chart.Closings{}, "Answer of seatward closing --all, form "+chart.ClosingsSchema)
	}},
	{"explain", func() ([]byte, error) {
		return outputSchema(&explained{}, "Answer of seatward explain, form "+explainSchema)
	}},
	{"configure", func() ([]byte, error) {
		return outputSchema(&configurationForm{}, "Answer of seatward configure, form "+configurationSchema)
	}},
	{"materials", func() ([]byte, error) {
		return outputSchema(&adviceList{}, "Answer of seatward materials, form "+materialsSchema)
	}},
	{"fit", func() ([]byte, error) { return outputSchema(&fitForm{}, "Answer of seatward fit, form "+fitSchema) }},
	{"leak", func() ([]byte, error) { return outputSchema(&leakForm{}, "Answer of seatward leak, form "+leakSchema) }},
	{"diagnosis", func() ([]byte, error) {
		return outputSchema(&site.Diagnosis{}, "Answer of seatward diagnose, form "+site.DiagnosisSchema)
	}},
	{"standards", func() ([]byte, error) {
		return outputSchema(&standardList{}, "Answer of seatward standards, form "+standardsSchema)
	}},
	{"clause", func() ([]byte, error) {
		return outputSchema(&flagList{}, "Answer of seatward standards --text, form "+clauseSchema)
	}},
	{"packs", func() ([]byte, error) {
		return outputSchema(&packList{}, "Answer of seatward rules --packs, form "+packsSchema)
	}},
	{"diff", func() ([]byte, error) {
		return outputSchema(&diffForm{}, "Answer of seatward catalog diff, form "+diffSchema)
	}},
	{"papers", func() ([]byte, error) {
		return outputSchema(&paperList{}, "Answer of seatward write, form "+papersSchema)
	}},
	{"api", web.Description},
}

func outputSchema(v any, title string) ([]byte, error) {
	r := &jsonschema.Reflector{Anonymous: true, ExpandedStruct: true}
	s := r.Reflect(v)
	s.Title = title
	return json.MarshalIndent(s, "", "  ")
}

// schemaCommand prints the JSON Schema of a file or of an answer.
func (a *app) schemaCommand() *cobra.Command {
	var known []string
	for _, s := range schemas {
		known = append(known, s.name)
	}
	c := &cobra.Command{
		Use:   "schema NAME",
		Short: "Print a JSON Schema, for editors and machines",
		Long: "Print the JSON Schema (2020-12) of a file that you write (station, catalog,\n" +
			"rules, column map, profile, wording), with which editors complete and check it,\n" +
			"or of what --json prints: study (the answer of select) and the others. api is\n" +
			"the interface of seatward serve, as OpenAPI. The title names the form and its\n" +
			"version.\n" +
			"NAME is one of\n" +
			strings.Join(text.Wrap(strings.Join(known, ", ")+".", text.Width), "\n"),
		Example:   "seatward schema station",
		ValidArgs: known,
		Args:      exactly(1, "the name of a schema ("+strings.Join(known, ", ")+")"),
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		for _, s := range schemas {
			if s.name != args[0] {
				continue
			}
			data, err := s.make()
			a.out.Write(append(data, '\n'))
			return err
		}
		return fmt.Errorf("no schema is called %q; %s", args[0], diag.Meant(args[0], known))
	}
	return c
}
