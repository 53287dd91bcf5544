package study

import (
	"errors"
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/station"
)

// TestConfigure: the station's place enters the choice, a pick goes before it, a place that
// the valve does not go with is reported, and picks that cannot be had are an error.
func TestConfigure(t *testing.T) {
	catalogs := options(t).Catalogs
	at := func(text string) *station.Station {
		st, list := station.Load("test.yaml", []byte(text))
		if st == nil {
			t.Fatal(list)
		}
		return st
	}
	find := func(id string) *catalog.Item {
		it, err := catalog.Find(catalogs, id)
		if err != nil {
			t.Fatal(err)
		}
		return it
	}
	choice := func(c Configured, option string) (string, string) {
		for _, s := range c.Options {
			if s.Option.ID == option && s.Choice != nil {
				return s.Choice.ID, s.How
			}
		}
		return "", ""
	}
	layout := at(string(example(t, "layout")))
	flap := find("flap/6in")
	c, err := Configure(layout, flap, nil)
	if err != nil || c.Apart != nil || c.Item != flap {
		t.Fatalf("%v, %v: %+v", err, c.Apart, c.Item)
	}
	if is, how := choice(c, catalog.PositionOption); is != layout.Valve.Position.String() || how != catalog.Asked {
		t.Errorf("position %s, %s", is, how)
	}
	if is, _ := choice(c, catalog.ServiceOption); is != string(layout.Fluid.Kind) {
		t.Errorf("service %s", is)
	}
	// Another position is picked: it counts, not the station's.
	for _, o := range flap.Family.Options {
		if o.ID != catalog.PositionOption {
			continue
		}
		for _, other := range o.Choices {
			c, err := Configure(layout, flap, []catalog.Pick{{Option: o.ID, Choice: other.ID}})
			if err != nil {
				t.Errorf("%s was picked: %v", other.ID, err)
				continue
			}
			if is, _ := choice(c, o.ID); is != other.ID {
				t.Errorf("%s was picked, %s is made", other.ID, is)
			}
		}
	}
	// Every valve has a configuration for its papers, in its own size and variant.
	odd := at(strings.Replace(string(example(t, "layout")), "position: ", "position: flow down # ", 1))
	apart := 0
	for _, f := range catalogs[0].Families {
		for _, it := range f.Items {
			c, err := Configure(odd, it, nil)
			if err != nil || c.Item != it {
				t.Errorf("%s: %v", it.ID, err)
				continue
			}
			if c.Apart != nil {
				apart++
			}
		}
	}
	if apart == 0 {
		t.Error("every valve goes with every position: the example tells nothing")
	}
	var barred *catalog.BarredError
	ball := find("ball-cage/4in/floating")
	if _, err := Configure(layout, ball, []catalog.Pick{{Option: "core", Choice: "steel"}}); !errors.As(err, &barred) {
		t.Errorf("a choice that does not go with the valve: %v", err)
	}
}
