package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seatward/basis"
	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/judge"
	"seatward/study"
)

// explainCommand prints the calculation tree of a number.
func (a *app) explainCommand() *cobra.Command {
	var in inputs
	var all bool
	c := &cobra.Command{
		Use:   "explain FILE [NAME]",
		Short: "Print where a number comes from, down to inputs and sources",
		Long: "Print the calculation of a number of the answer as a tree: each value with its\n" +
			"formula and source, down to what was given, assumed or taken from a catalog.\n" +
			"Without NAME, list the names: those of the station, of its operating points and\n" +
			"of the first-ranked valve; --all lists those of every valve that was looked at.\n" +
			"Below a slam number stands what hand formulas say of it.",
		Example:           "seatward explain examples/layout.station.yaml\nseatward explain examples/layout.station.yaml 'main.runs[0].wave_speed'\nseatward explain examples/layout.station.yaml flap/6in reverse_velocity",
		Args:              between(1, 3, "a station file and the name of a number"),
		ValidArgsFunction: stationFiles,
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		name := strings.Join(args[1:], " ")
		if err := a.narrow(&in, name); err != nil {
			return err
		}
		s, err := a.study(c.Context(), args[0], &in)
		if err != nil {
			return err
		}
		a.warnings(s.Station.Warnings)
		opt := a.print(s.Station.Units)
		if name == "" {
			values := names(s, all)
			if in.json {
				return a.printJSON(listOf(values))
			}
			return text.Paths(&a.out, values, opt)
		}
		v, ok := s.Value(name)
		if !ok {
			return unknownName(s, args[0], name)
		}
		if in.json {
			return a.printJSON(explained{Schema: explainSchema, Program: program.This(), Name: name, node: tree(v)})
		}
		if err := text.Explain(&a.out, name, v, opt); err != nil {
			return err
		}
		return a.byHand(s, name, opt)
	}
	c.Flags().BoolVar(&all, "all", false, "list the names of every valve that was looked at")
	in.valveFlag(c, "look at one valve only, by its `ID`")
	in.dataFlags(c)
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}

// byHand prints what hand formulas say of the slam, below a number of it.
func (a *app) byHand(s *study.Study, name string, opt text.Options) error {
	id, number, _ := strings.Cut(name, " ")
	if !slices.Contains([]string{"reverse_velocity", "sudden_stop", "head_rise", "deceleration"}, number) {
		return nil
	}
	it, err := catalog.Find(s.Catalogs, id)
	if err != nil {
		return err
	}
	hand, err := judge.HandFormulas(s.Station, it, s.ByHand)
	return text.ByHand(&a.out, &hand, err, opt)
}

// narrow has only the valve judged that a number's name begins with: what is asked of
// one valve does not depend on the others.
func (a *app) narrow(in *inputs, name string) error {
	id, _, _ := strings.Cut(name, " ")
	if in.valve != "" || id == "" {
		return nil
	}
	catalogs, err := a.catalogs(in.catalogs)
	if err != nil {
		return err
	}
	if it, err := catalog.Find(catalogs, id); err == nil && it.ID == id {
		in.valve = id
	}
	return nil
}

// names are the values that can be explained: without all, of the valves only the best.
func names(s *study.Study, all bool) []study.Named {
	var out []study.Named
	best := s.Assessments[0].Item.ID
	for _, v := range s.Values() {
		if all || v.Valve == "" || v.Valve == best {
			out = append(out, v)
		}
	}
	return out
}

// unknownName says that no number has the name, and which may have been meant.
func unknownName(s *study.Study, file, name string) error {
	var paths, below []string
	for _, v := range s.Values() {
		paths = append(paths, v.Path)
		if strings.HasPrefix(v.Path, name) {
			below = append(below, v.Path)
		}
	}
	const most = 16
	switch near := diag.DidYouMean(name, paths); {
	case near != "":
		return fmt.Errorf("no number is called %q; did you mean %q?", name, near)
	case len(below) > 0 && len(below) <= most:
		return fmt.Errorf("%q is no number, but these are: %s", name, strings.Join(below, ", "))
	}
	return fmt.Errorf("no number is called %q; for the list: seatward explain %s", name, file)
}

// explainSchema names the machine form of an explanation.
const explainSchema = "seatward.explain/1"

// node is one value of a calculation tree, in SI.
type node struct {
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	What    string  `json:"what"`
	Origin  string  `json:"origin" jsonschema:"enum=given,enum=assumed,enum=catalog,enum=computed,enum=simulated"`
	Place   string  `json:"place,omitempty"`
	Reason  string  `json:"reason,omitempty"`
	Source  string  `json:"source,omitempty"`
	Formula string  `json:"formula,omitempty"`
	Range   string  `json:"formula_holds,omitempty"`
	Inputs  []node  `json:"inputs,omitempty"`
}

// explained is the machine form of an explanation.
type explained struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Name    string          `json:"name"`
	node
}

func tree(v basis.Value) node {
	n := node{
		Value: v.SI, Unit: v.Kind.Symbol(), Low: v.Low, High: v.High, What: v.Name, Origin: v.Origin.String(),
		Place: v.Place, Reason: v.Reason,
	}
	if v.Source != "" {
		n.Source = basis.Cite(v.Source)
	}
	if v.Formula != nil {
		n.Formula, n.Range = v.Formula.Expr, v.Formula.Range
	}
	for _, in := range v.Inputs {
		n.Inputs = append(n.Inputs, tree(in))
	}
	return n
}

// explainable is the machine form of the list of names.
type explainable struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Values  []valueLine     `json:"values"`
}

type valueLine struct {
	Name   string  `json:"name"`
	What   string  `json:"what"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Origin string  `json:"origin"`
}

func listOf(values []study.Named) explainable {
	out := explainable{Schema: "seatward.values/1", Program: program.This(), Values: []valueLine{}}
	for _, n := range values {
		v := n.Value
		out.Values = append(out.Values,
			valueLine{n.Path, v.Name, v.SI, v.Kind.Symbol(), v.Low, v.High, v.Origin.String()})
	}
	return out
}
