package main

import (
	"math"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/rules"
)

// configurationSchema names the machine form of a configuration.
const configurationSchema = "seatward.configuration/1"

// configurationForm is the machine form of a configuration, in SI.
type configurationForm struct {
	Schema        string          `json:"schema"`
	Program       program.Program `json:"program"`
	Valve         string          `json:"valve"`
	Code          string          `json:"code"`
	Options       []optionForm    `json:"options"`
	Open          []openForm      `json:"open"`
	Parts         []partForm      `json:"bill_of_materials"`
	MassKg        *float64        `json:"mass_kg,omitempty"`
	CoverMassKg   *float64        `json:"cover_mass_kg,omitempty"`
	ElementMassKg *float64        `json:"element_mass_kg,omitempty"`
	RatingPa      *float64        `json:"rating_pa,omitempty"`
	ShellTestPa   *float64        `json:"shell_test_pa,omitempty"`
	SeatTestPa    *float64        `json:"seat_test_pa,omitempty"`
	DrinkingWater string          `json:"drinking_water"`
	Standards     []string        `json:"standards"`
	Spares        []string        `json:"spares"`
	LimitKg       float64         `json:"lifting_limit_kg"`
	Lifts         []liftForm      `json:"lifts"`
	Materials     []adviceLine    `json:"materials"`
	Cautions      []string        `json:"cautions"`
}

type optionForm struct {
	ID     string           `json:"id"`
	Choice string           `json:"choice,omitempty"`
	How    string           `json:"how"`
	Left   []string         `json:"left"`
	Barred []catalog.Barred `json:"barred,omitempty"`
}

type openForm struct {
	Needs []string `json:"needs"`
	catalog.Reason
}

type partForm struct {
	Name     string   `json:"part"`
	Material string   `json:"material,omitempty"`
	Standard string   `json:"standard,omitempty"`
	MassKg   *float64 `json:"mass_kg,omitempty"`
	By       string   `json:"by,omitempty"`
}

type liftForm struct {
	Part   string   `json:"part"`
	MassKg *float64 `json:"mass_kg,omitempty"`
	Index  *float64 `json:"index,omitempty"`
	Alone  bool     `json:"one_person"`
}

// siOf is the number, nil where it is not known or not finite.
func siOf(v basis.Value) *float64 {
	if !v.Known() || math.IsInf(v.SI, 0) || math.IsNaN(v.SI) {
		return nil
	}
	return &v.SI
}

func configurationJSON(c *text.Configured) configurationForm {
	cfg := c.Configuration
	out := configurationForm{
		Schema: configurationSchema, Program: program.This(), Valve: cfg.Item.ID, Code: cfg.Code(), Open: []openForm{},
		Parts:  []partForm{},
		MassKg: siOf(cfg.Mass), CoverMassKg: siOf(cfg.Cover), ElementMassKg: siOf(cfg.Element),
		RatingPa: siOf(cfg.Rating), ShellTestPa: siOf(cfg.ShellTest), SeatTestPa: siOf(cfg.SeatTest),
		DrinkingWater: cfg.DrinkingWater, Standards: append([]string{}, cfg.Standards...),
		Spares: append([]string{}, cfg.Spares...), LimitKg: c.Limit.SI, Materials: adviceJSON(c.Advice).Advice,
	}
	for _, s := range cfg.Options {
		o := optionForm{ID: s.Option.ID, How: s.How, Left: append([]string{}, s.Left...), Barred: s.Barred}
		if s.Choice != nil {
			o.Choice = s.Choice.ID
		}
		out.Options = append(out.Options, o)
	}
	for _, o := range cfg.Open {
		out.Open = append(out.Open, openForm{o.Needs, o.Reason})
	}
	for _, p := range cfg.Parts {
		out.Parts = append(out.Parts, partForm{p.Name, p.Material.Material, p.Standard, siOf(p.Mass), p.By})
	}
	for _, v := range c.Lifts {
		f := liftForm{Part: v.Part, MassKg: siOf(v.Mass), Alone: v.Alone}
		if v.Mass.Known() && !math.IsInf(v.Index, 0) {
			f.Index = &v.Index
		}
		out.Lifts = append(out.Lifts, f)
	}
	out.Cautions = cautionTexts(c.Cautions)
	return out
}

// cautionTexts are cautions with whom they defer to.
func cautionTexts(all []rules.Caution) []string {
	out := []string{}
	for _, x := range all {
		out = append(out, x.Text+" "+x.Defers)
	}
	return out
}
