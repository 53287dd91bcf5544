package catalog

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/pool"
	"seatward/internal/yamlfile"
	"seatward/valve"
)

// Check proves what reading cannot: that every item can be built and closes in the
// positions that it is offered for, that its data are whole, and that its numbers fit
// together, the standards that it claims and the mechanics of its type. Errors are
// numbers that cannot be; warnings are data that are missing, or unlikely.
func Check(catalogs []*Catalog) diag.List {
	k := checker{told: map[diag.Message]bool{}}
	first := map[string]*Family{}
	var families []*Family
	for _, c := range catalogs {
		k.likeTheDemo(c)
		for _, f := range c.Families {
			if other := first[f.ID]; other != nil {
				k.family(f, "family-in-two-catalogs",
					fmt.Sprintf("%s %s has a family of that ID too: it names no one valve", other.Catalog.Maker,
						other.Catalog.Version), "an ID that no other catalog has", "rename one of the two")
			}
			first[f.ID] = f
			families = append(families, f)
		}
	}
	lists := make([]diag.List, len(families))
	pool.Each(len(families), func(i int) { lists[i] = checkFamily(families[i]) })
	for _, list := range lists {
		k.list = append(k.list, list...)
	}
	k.list.Sort()
	return k.list
}

// likeTheDemo holds a catalog that goes by the maker and version of the demonstration catalog
// to what that says of itself: as one more file of it, it would stop every command.
func (k *checker) likeTheDemo(c *Catalog) {
	demo, _ := Demo()
	for _, d := range demo {
		if d == c || d.Maker != c.Maker || d.Version != c.Version || len(c.Families) == 0 {
			continue
		}
		for _, say := range []struct{ what, here, there string }{
			{"date", c.Date, d.Date},
			{"source", c.Source, d.Source},
			{"license", c.Licence, d.Licence},
			{"invented", yesNo(c.Invented), yesNo(d.Invented)},
		} {
			if say.here != say.there {
				k.family(c.Families[0], "catalog-differs",
					fmt.Sprintf("its %s is %q; the catalog that comes with Seatward has the same maker and version, and %q", say.what, say.here, say.there), "the same in all files of one maker and version", "give this file a maker or a version of its own, or mend it")
			}
		}
	}
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

func checkFamily(f *Family) diag.List {
	k := checker{told: map[diag.Message]bool{}}
	for _, it := range f.Items {
		k.item(it)
	}
	k.options(f)
	k.trends(f)
	return k.list
}

type checker struct {
	list diag.List
	told map[diag.Message]bool
}

// finding is a fault of one item: at a line of its file, or at its size where at is
// not set.
type finding struct {
	at                       yamlfile.At
	severity                 diag.Severity
	id, text, expected, mend string
}

func (k *checker) add(it *Item, f finding) {
	if !f.at.Set && it.size != nil {
		f.at = it.size.Size.At
	}
	k.message(diag.Message{
		ID: f.id, Severity: f.severity, Place: f.at.Place, Path: it.ID, Text: f.text,
		Expected: f.expected, Mend: f.mend,
	})
}

func (k *checker) family(f *Family, id, text, expected, mend string) {
	m := diag.Message{ID: id, Path: f.ID, Text: text, Expected: expected, Mend: mend}
	if f.file != nil {
		m.Place = f.file.ID.Place
	}
	k.message(m)
}

// message tells a fault once: one line of a file may count for several variants, and
// the first of them stands for all.
func (k *checker) message(m diag.Message) {
	fault := m
	fault.Path = ""
	if !k.told[fault] {
		k.told[fault] = true
		k.list.Add(m)
	}
}

// waterKgM3 is the density of the water in which items are checked.
const waterKgM3 = 999

func (k *checker) item(it *Item) {
	k.whole(it)
	k.masses(it)
	k.bores(it)
	k.length(it)
	k.ratings(it)
	if k.builds(it) {
		k.mechanics(it)
	}
}

// builds builds the item for every position that it is offered for.
func (k *checker) builds(it *Item) bool {
	for _, p := range it.Positions {
		m, err := it.Build(valve.In(waterKgM3, p))
		if err != nil {
			k.unbuildable(it, err)
			return false
		}
		if yes, stuck := m.SelfClosing(); !yes {
			k.add(it, finding{
				id: "does-not-close", text: fmt.Sprintf("offered for %s, but nothing closes it there from %.0f%% of its way", p, 100*stuck),
				expected: "a position in which weight or spring close it",
				mend:     "take the position out, or mend the mechanics",
			})
		}
	}
	return true
}

// unbuildable tells what keeps the item from being built, at the number that is wrong.
func (k *checker) unbuildable(it *Item, err error) {
	for _, e := range flatten(err) {
		f := finding{
			id: "does-not-build", text: e.Error(), expected: "numbers of a real valve",
			mend: "mend the mechanics",
		}
		var p *valve.ParamError
		if errors.As(e, &p) {
			f.at, f.text, f.expected, f.mend = it.where(p.Key), fmt.Sprintf("%s cannot be %s", p.Key,
				p.Found), p.Expected, p.Mend
		}
		k.add(it, f)
	}
}

// kvSpread is how far a flow coefficient may lie from the loss that the mechanics use
// before the two are called different: where both are given it is rounding, where the
// loss is computed it is what such computations are good for.
const (
	kvSpread         = 0.02
	kvSpreadComputed = 0.15
)

// mechanics holds the numbers of the item to the mechanics of its type.
func (k *checker) mechanics(it *Item) {
	notes, err := it.Family.Type.Consistency(it.Params)
	if err != nil {
		k.unbuildable(it, err)
		return
	}
	k.unread(it)
	for _, n := range notes {
		f := finding{
			at: it.where(n.Key), severity: diag.Warning, id: "unlikely-" + strings.ReplaceAll(n.Key, "_", "-"),
			text: n.Text, mend: "check the numbers, or leave the measured ones and say so in the source",
		}
		if n.Key == "opening_efficiency" {
			f.at, f.mend = it.where("full_open_velocity"), "check full_open_velocity, flow_coefficient, masses and springs"
		}
		k.add(it, f)
	}
	k.coefficient(it)
}

// unread tells numbers that have no bearing on this item.
func (k *checker) unread(it *Item) {
	keys, err := it.Family.Type.Unread(it.Params)
	if err != nil {
		return // told by Consistency
	}
	for _, key := range keys {
		if at := it.where(key); at.Set {
			k.add(it, finding{
				at: at, severity: diag.Warning, id: "mechanics-unread",
				text: key + " has no bearing on this valve: other numbers stand in its place", mend: "leave it out, or leave those out",
			})
		}
	}
}

// coefficient holds the flow coefficient to the loss that the mechanics use.
func (k *checker) coefficient(it *Item) {
	if !it.FlowCoefficient.Known() || it.FlowCoefficient.Origin != basis.Catalog {
		return
	}
	spread, severity, loss := kvSpread, diag.Error, it.Params["full_open_loss"].SI
	if loss == 0 {
		m, err := it.Build(valve.In(waterKgM3, it.Positions[0]))
		if err != nil {
			return // told by builds
		}
		spread, severity, loss = kvSpreadComputed, diag.Warning, m.FullOpenVelocity().Loss
	}
	if kv := valve.KvFromLoss(loss, it.Bore.SI); math.Abs(it.FlowCoefficient.SI/kv-1) > spread {
		f := finding{
			severity: severity, id: "flow-coefficient",
			text: fmt.Sprintf("the flow coefficient is %s, but the loss coefficient %.3g of the mechanics makes %s",
				show(it.FlowCoefficient), loss, show(basis.NewCatalog("", it.FlowCoefficient.Kind, kv, ""))),
			expected: fmt.Sprintf("within %.0f%%", 100*spread), mend: "mend one of the two",
		}
		if it.size != nil {
			f.at = it.size.Flow.At
		}
		k.add(it, f)
	}
}
