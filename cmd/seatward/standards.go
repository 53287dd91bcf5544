package main

import (
	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/standards"
)

// standardsCommand says which standards apply to a valve.
func (a *app) standardsCommand() *cobra.Command {
	var in inputs
	var at standards.Place
	var clause string
	c := &cobra.Command{
		Use:   "standards VALVE",
		Short: "Say which standards apply to a valve, and which are quoted wrongly",
		Long: "Say of each standard that people quote whether it applies to the valve, in\n" +
			"part or not, a summary of what it covers (not quoted), and what to specify\n" +
			"instead.\n" +
			"--text FILE reads a pasted specification clause (or - for standard input) and\n" +
			"flags standards that do not fit the valve, stale editions and contradictions.",
		Example: "seatward standards ball-pocket/6in --service 'raw sewage'",
		Args:    exactly(1, "one valve by its ID; see: seatward catalog list"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return completeValves(nil, nil, "")
		},
	}
	c.Flags().StringVar(&at.Position, "position", "", "`position`: horizontal, flow up or flow down")
	service := c.Flags().String("service", "", "`what` is pumped: "+serviceNames())
	c.Flags().StringVar(&clause, "text", "", "`FILE` with a specification clause to read")
	_ = c.MarkFlagFilename("text", "txt", "md")
	in.dataFlags(c)
	in.formFlags(c)
	c.RunE = func(_ *cobra.Command, args []string) error {
		if at.Position != "" {
			p, err := positionFlag(at.Position)
			if err != nil {
				return err
			}
			at.Position = p.String()
		}
		var err error
		if at.Service, err = serviceFlag(*service); err != nil {
			return err
		}
		catalogs, err := a.catalogs(in.catalogs)
		if err != nil {
			return err
		}
		it, err := catalog.Find(catalogs, args[0])
		if err != nil {
			return err
		}
		all, list := standards.Base()
		if list.Err() != nil {
			return list
		}
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		if clause == "" {
			said := standards.Judge(all, it, at)
			if in.json {
				return a.printJSON(standardsJSON(it, said))
			}
			return text.Standards(&a.out, it, said, a.print(sys))
		}
		data, err := a.read(clause)
		if err != nil {
			return err
		}
		pasted, list := standards.ReadText(shown(clause), data)
		if list != nil {
			return list
		}
		flags := standards.Clause(*pasted, all, it, at)
		if in.json {
			return a.printJSON(clauseJSON(it, flags))
		}
		return text.Clause(&a.out, it, flags, a.print(sys))
	}
	return c
}

// standardsSchema names the machine form of the standards of a valve.
const standardsSchema = "seatward.standards/1"

type standardList struct {
	Schema    string          `json:"schema"`
	Program   program.Program `json:"program"`
	Valve     string          `json:"valve"`
	Standards []standardLine  `json:"standards"`
}

type standardLine struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	About    string   `json:"about"`
	Edition  string   `json:"latest_known_edition,omitempty"`
	Verdict  string   `json:"verdict"`
	Scope    string   `json:"scope"`
	Text     string   `json:"text,omitempty"`
	Hangs    []string `json:"hangs_on,omitempty"`
	Source   string   `json:"source"`
	Status   string   `json:"status"`
	Replaced string   `json:"withdrawn_for,omitempty"`
}

func standardsJSON(it *catalog.Item, said []standards.Said) standardList {
	out := standardList{Schema: standardsSchema, Program: program.This(), Valve: it.ID}
	for _, s := range said {
		st := s.Standard
		line := standardLine{
			ID: st.ID, Title: st.Title, About: st.About, Verdict: s.Verdict.String(), Scope: st.Scope,
			Text: s.Text, Hangs: s.Hangs, Source: st.Source, Status: st.Status, Replaced: st.Withdrawn,
		}
		if len(st.Editions) > 0 {
			line.Edition = st.Editions[0]
		}
		out.Standards = append(out.Standards, line)
	}
	return out
}

// clauseSchema names the machine form of what a clause gets wrong.
const clauseSchema = "seatward.clause/1"

type flagList struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Valve   string          `json:"valve"`
	Flags   []flagLine      `json:"flags"`
}

type flagLine struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Found  string `json:"found"`
	Kind   string `json:"kind"`
	Text   string `json:"text"`
}

func clauseJSON(it *catalog.Item, flags []standards.Flag) flagList {
	out := flagList{Schema: clauseSchema, Program: program.This(), Valve: it.ID, Flags: []flagLine{}}
	for _, f := range flags {
		out.Flags = append(out.Flags, flagLine{f.Place.Line, f.Place.Col, f.Found, f.Kind, f.Text})
	}
	return out
}
