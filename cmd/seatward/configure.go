package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/fluid"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/lift"
	"seatward/quantity"
	"seatward/rules"
)

// conditions are what a configuration must bear, as flags.
type conditions struct {
	inputs
	temperature, pressure, oil, grit string
	reach, from, to                  string
}

// configureCommand completes a choice of options to a legal configuration.
func (a *app) configureCommand() *cobra.Command {
	var in conditions
	c := &cobra.Command{
		Use:   "configure VALVE [OPTION=CHOICE]...",
		Short: "Choose options of a valve that go together",
		Long: "Complete a choice of options to a configuration that the catalog's rules allow:\n" +
			"what follows from the choices is set, the rest is the usual choice that goes\n" +
			"with them. Printed are what each option could be, what is barred and why, the\n" +
			"bill of materials, ratings and test pressures, masses with what one person may\n" +
			"lift, and which materials suit the liquid. VALVE is a family, or a valve by its\n" +
			"ID; size, position, ends, elastomer and service are options of every family.",
		Example: "seatward configure ball-cage/4in variant=floating\nseatward configure swing 'service=drinking water' --temperature '20 C'",
		Args:    between(1, -1, "a family or a valve, then option=choice pairs"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
			}
			return completeValves(nil, nil, "")
		},
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		out, err := a.configured(args, &in)
		if err != nil {
			return err
		}
		if in.json {
			return a.printJSON(configurationJSON(out))
		}
		return text.Configuration(&a.out, out, a.print(sys))
	}
	f := c.Flags()
	f.StringVar(&in.temperature, "temperature", "", "greatest `TEMPERATURE` of the liquid, such as '20 C'")
	f.StringVar(&in.pressure, "pressure", "", "greatest `PRESSURE` in the valve, such as '120 psi'")
	f.StringVar(&in.oil, "oil", "", "oil in the liquid: `none, trace or heavy`")
	f.StringVar(&in.grit, "grit", "", "grit in the liquid: `none, some or heavy`")
	f.StringVar(&in.reach, "reach", "", "horizontal `LENGTH` from the ankles to the hands when lifting")
	f.StringVar(&in.from, "lift-from", "", "`HEIGHT` of the hands over the floor at the start of a lift")
	f.StringVar(&in.to, "lift-to", "", "`HEIGHT` of the hands over the floor at its end")
	in.dataFlags(c)
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}

// configured answers the command.
func (a *app) configured(args []string, in *conditions) (*text.Configured, error) {
	catalogs, err := a.catalogs(in.catalogs)
	if err != nil {
		return nil, err
	}
	book, err := a.book(in.rules)
	if err != nil {
		return nil, err
	}
	family, picks, err := picked(catalogs, args)
	if err != nil {
		return nil, err
	}
	var bears catalog.Circumstances
	task := lift.Task{}
	for _, q := range []struct {
		flag, text string
		kind       quantity.Kind
		into       *float64
	}{
		{"--temperature", in.temperature, quantity.Temperature, &bears.TemperatureK},
		{"--pressure", in.pressure, quantity.Pressure, &bears.PressurePa},
		{"--reach", in.reach, quantity.Length, &task.ReachM},
		{"--lift-from", in.from, quantity.Length, &task.FromM},
		{"--lift-to", in.to, quantity.Length, &task.ToM},
	} {
		if q.text == "" {
			continue
		}
		v, err := quantity.Parse(q.kind, q.text)
		if err == nil && !(v.SI > 0) {
			err = fmt.Errorf("%q: a %s above zero is expected", q.text, q.kind)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", q.flag, err)
		}
		*q.into = v.SI
	}
	cfg, err := family.Configure(picks, bears)
	if err != nil {
		return nil, err
	}
	known, err := in.known(bears)
	if err != nil {
		return nil, err
	}
	for _, s := range cfg.Options {
		if s.Option.ID == catalog.ServiceOption && s.Choice != nil {
			known["service"] = s.Choice.ID
		}
	}
	out := &text.Configured{Configuration: cfg, Limit: lift.Limit(task), Advice: book.Advise(known)}
	out.Lifts = cfg.Lifts(out.Limit)
	heavy := slices.ContainsFunc(out.Lifts, func(v lift.Verdict) bool { return !v.Alone })
	word, _ := known["service"].(string)
	service := fluid.Service(word)
	out.Cautions = book.CautionsWhen(map[string]bool{
		"always": true, "heavy": heavy, "vault": true,
		"sewage": service.Sewage() || service == "", "drinking water": service.Drinking(),
	})
	return out, nil
}

// known are the facts about the liquid that advice may depend on.
func (in *conditions) known(bears catalog.Circumstances) (map[string]any, error) {
	known := map[string]any{}
	if bears.TemperatureK > 0 {
		known["temperature"] = bears.TemperatureK - 273.15
	}
	for _, w := range []struct{ name, said, words string }{
		{"oil", in.oil, "none trace heavy"},
		{"grit", in.grit, "none some heavy"},
	} {
		if w.said == "" {
			continue
		}
		if !strings.Contains(" "+w.words+" ", " "+w.said+" ") {
			return nil, fmt.Errorf("--%s %q is not a choice; write %s", w.name, w.said,
				strings.Join(strings.Fields(w.words), ", "))
		}
		known[w.name] = w.said
	}
	return known, nil
}

// picked reads the family and the choices of a command line.
func picked(catalogs []*catalog.Catalog, args []string) (*catalog.Family, []catalog.Pick, error) {
	family, words, err := catalog.FindFamily(catalogs, args[0])
	if err != nil {
		return nil, nil, err
	}
	asked, err := picks(args[1:])
	if err != nil {
		return nil, nil, err
	}
	words = append(words, asked...)
	var picks []catalog.Pick
	said := map[string]string{}
	for _, w := range words {
		p, err := family.Named(w.Option, w.Choice)
		if err != nil {
			return nil, nil, err
		}
		if before, twice := said[p.Option]; twice && before != p.Choice {
			return nil, nil, fmt.Errorf("%s is asked for twice: %s and %s", p.Option, before, p.Choice)
		} else if !twice {
			picks = append(picks, p)
		}
		said[p.Option] = p.Choice
	}
	if len(family.Items) == 0 {
		return nil, nil, errors.New(family.ID + " has no size that can be built")
	}
	return family, picks, nil
}

// picks reads choices as they are written, option=choice.
func picks(words []string) ([]catalog.Pick, error) {
	var out []catalog.Pick
	for _, w := range words {
		option, choice, ok := strings.Cut(w, "=")
		if !ok {
			return nil, fmt.Errorf("%q: option=choice is expected, such as elastomer=EPDM", w)
		}
		out = append(out, catalog.Pick{Option: strings.TrimSpace(option), Choice: strings.TrimSpace(choice)})
	}
	return out, nil
}

// materialsCommand advises on materials alone.
func (a *app) materialsCommand() *cobra.Command {
	var in conditions
	var said string
	c := &cobra.Command{
		Use:   "materials",
		Short: "Say which materials suit a liquid, and which must not be used",
		Long: "Say which materials suit a liquid for body, coating, ball skin and bolting,\n" +
			"which must not be used, and what drinking water needs; each with its source.",
		Example: "seatward materials --service 'raw sewage' --temperature '20 C' --grit some",
		Args:    exactly(0, "no arguments"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		book, err := a.book(in.rules)
		if err != nil {
			return err
		}
		var bears catalog.Circumstances
		if in.temperature != "" {
			q, err := quantity.Parse(quantity.Temperature, in.temperature)
			if err != nil {
				return fmt.Errorf("--temperature: %w", err)
			}
			bears.TemperatureK = q.SI
		}
		known, err := in.known(bears)
		if err != nil {
			return err
		}
		service, err := serviceFlag(said)
		if err != nil {
			return err
		}
		if service != "" {
			known["service"] = said
		}
		advice := book.Advise(known)
		if in.json {
			return a.printJSON(adviceJSON(advice))
		}
		cautions := book.CautionsWhen(map[string]bool{
			"sewage":         service == "" || service.Sewage(),
			"drinking water": service == "" || service.Drinking(),
		})
		return text.Materials(&a.out, advice, cautions, a.print(quantity.US))
	}
	f := c.Flags()
	f.StringVar(&said, "service", "", "`what` is pumped: "+serviceNames())
	f.StringVar(&in.temperature, "temperature", "", "greatest `TEMPERATURE` of the liquid")
	f.StringVar(&in.oil, "oil", "", "oil in it: `none, trace or heavy`")
	f.StringVar(&in.grit, "grit", "", "grit in it: `none, some or heavy`")
	in.ruleFlags(c)
	f.BoolVar(&in.json, "json", false, "print JSON for machines")
	return c
}

// serviceNames are the words of the flag --service.
func serviceNames() string { return strings.Join(fluid.ServiceWords(fluid.Services()), ", ") }

// serviceFlag reads the flag --service; "" where it is not given.
func serviceFlag(word string) (fluid.Service, error) {
	service, ok := fluid.ServiceNamed(word)
	if !ok && word != "" {
		return "", fmt.Errorf("--service %q is not a choice; write %s", word, serviceNames())
	}
	return service, nil
}

// materialsSchema names the machine form of advice on materials.
const materialsSchema = "seatward.materials/1"

// adviceList is the machine form of advice.
type adviceList struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Advice  []adviceLine    `json:"advice"`
}

type adviceLine struct {
	ID       string   `json:"id"`
	Part     string   `json:"part"`
	Material string   `json:"material"`
	Says     string   `json:"says"`
	Text     string   `json:"text"`
	Open     []string `json:"hangs_on,omitempty"`
	Source   string   `json:"source"`
	Status   string   `json:"status"`
}

func adviceJSON(all []rules.Advice) adviceList {
	out := adviceList{Schema: materialsSchema, Program: program.This(), Advice: []adviceLine{}}
	for _, x := range all {
		out.Advice = append(out.Advice,
			adviceLine{x.ID, x.Part, x.Material, x.Says, x.Text, x.Open, x.Source, x.Status})
	}
	return out
}
