// Package rules holds the limits by which valves are judged, what elastomers bear,
// and the cautions that go with an answer, as data: each with its source, edition and
// how sure it is. A user's file can replace any of them; what it does not name stays.
package rules

import (
	"maps"
	"slices"

	"seatward/basis"
)

// Severity is what breaking a limit does to the verdict.
type Severity string

// The severities of a broken limit, mildest first.
const (
	Note      Severity = "note"      // it is mentioned
	Condition Severity = "condition" // suitable only if it is seen to
	Rejects   Severity = "rejects"   // unsuitable
)

// Limit is one limit with its record.
type Limit struct {
	ID, Title, Edition, Status, Note string
	Severity                         Severity
	Value                            basis.Value // assumed, with status and source, so that it explains itself

	notAbove string // another limit that this one must not exceed
}

// Elastomer says what one elastomer bears.
type Elastomer struct {
	Name, Oil, Grit, Source, Status, Note string
	Chloramine                            bool    // it suffers from chloramine in drinking water
	MostK                                 float64 // greatest temperature in water, K
}

// Caution is one caution: when it applies, what it says, and to whom it defers.
type Caution struct {
	ID, Text, Defers string
	When             []string
}

// Book is a set of rules. It is never changed; With makes another.
type Book struct {
	limits     map[string]Limit
	elastomers map[string]Elastomer
	cautions   []Caution
	advice     []Advice
	packs      []Pack
}

// clone is a copy that may be changed.
func (b *Book) clone() *Book {
	out := &Book{
		limits: maps.Clone(b.limits), elastomers: maps.Clone(b.elastomers), cautions: slices.Clone(b.cautions),
		advice: slices.Clone(b.advice), packs: slices.Clone(b.packs),
	}
	if out.limits == nil {
		out.limits, out.elastomers = map[string]Limit{}, map[string]Elastomer{}
	}
	return out
}

// Limit finds a limit. Asking for one that is not in the base file is a fault of the
// program, held by a test of judge.
func (b *Book) Limit(id string) Limit {
	l, ok := b.limits[id]
	if !ok {
		panic("rules: no limit " + id)
	}
	return l
}

// IDs lists the limits by name.
func (b *Book) IDs() []string { return slices.Sorted(maps.Keys(b.limits)) }

// Elastomer finds what an elastomer bears; false where the book does not know it.
func (b *Book) Elastomer(name string) (Elastomer, bool) {
	e, ok := b.elastomers[name]
	return e, ok
}

// Elastomers lists the elastomers by name.
func (b *Book) Elastomers() []string { return slices.Sorted(maps.Keys(b.elastomers)) }

// Cautions lists the cautions in their order.
func (b *Book) Cautions() []Caution { return b.cautions }

// CautionsWhen lists the cautions that go with an answer, by the words of their when that
// apply.
func (b *Book) CautionsWhen(applies map[string]bool) []Caution {
	var out []Caution
	for _, c := range b.cautions {
		if slices.ContainsFunc(c.When, func(w string) bool { return applies[w] }) {
			out = append(out, c)
		}
	}
	return out
}
