package quantity

import "strings"

// Reading says how a text is read where its writer left something out: the unit of a bare
// number, and what a comma means. The zero value takes nothing for granted.
type Reading struct {
	System System // of the writer, where Stated
	Stated bool   // the writer's system is known
	Bare   bool   // a bare number is in the system's unit, or in Unit
	Unit   string // for bare numbers, in place of the system's
	Comma  Comma  // where all numbers of a table are of one writer
}

// Comma is what a comma before three digits means.
type Comma uint8

// The meanings. CommaUnsaid goes by the unit: with one of US custom it groups thousands.
const (
	CommaUnsaid Comma = iota
	CommaDecimal
	CommaThousands
)

// For is the reading of a text in a field that shows units of the system.
func For(sys System) Reading { return Reading{System: sys, Stated: true, Bare: true} }

// Parse reads a quantity without a range.
func (g Reading) Parse(kind Kind, text string) (Quantity, error) {
	r, err := g.ParseRange(kind, text)
	if err == nil && r.Low != r.High {
		return Quantity{}, fail(kind, text, "a range", "one value", "write the best value alone")
	}
	return r.Best, err
}

// ParseRange reads a quantity that may carry its range.
func (g Reading) ParseRange(kind Kind, text string) (Range, error) {
	r, err := g.parseRange(kind, text)
	if err != nil {
		return Range{}, err
	}
	return Range{with(r.Low, rounded(r.Low.SI)), with(r.Best, rounded(r.Best.SI)), with(r.High, rounded(r.High.SI))},
		nil
}

// Complete gives the text with the unit that a bare number takes, so that it says by itself
// what was meant. A bare fraction of one or less is in doubt where percent is shown. The
// error is a *ParseError, also for a text that cannot be read.
func (g Reading) Complete(kind Kind, text string) (string, error) {
	if _, err := g.ParseRange(kind, text); err != nil {
		return "", err
	}
	t := strings.TrimSpace(text)
	_, unit := splitNumber(plain(t))
	switch {
	case strings.ContainsAny(plain(t), "±(") || spanned(plain(t)) != "":
		return g.completeRange(kind, t), nil
	case unit != "":
		return t, nil
	case kind == Fraction:
		q, _ := g.Parse(kind, t)
		if q.SI > 1 {
			return t + " %", nil
		}
		if q.SI > 0 {
			part := Figures(100*q.SI, Digits-3)
			e := fail(kind, text, "a bare number of one or less", "a percentage", "write "+t+" % or "+tidy(part)+" %")
			e.Choices = []string{t + " %", tidy(part) + " %"}
			return "", e
		}
		return t, nil
	}
	return g.withUnit(kind, t), nil
}

// completeRange puts the unit where a range of bare numbers has it.
func (g Reading) completeRange(kind Kind, t string) string {
	p := plain(t)
	if left, right, ok := strings.Cut(p, "±"); ok {
		left = g.withUnit(kind, strings.TrimSpace(left))
		right = strings.TrimSpace(right)
		if _, unit := splitNumber(right); unit == "" {
			best, _ := g.parseOne(kind, t, left)
			right += " " + differenceUnit(kind, best.Unit)
		}
		return left + " ± " + right
	}
	if before, rest, ok := strings.Cut(p, "("); ok {
		if _, tail, _ := strings.Cut(rest, ")"); strings.TrimSpace(before+tail) == strings.TrimSpace(before) {
			if _, unit := splitNumber(strings.TrimSpace(before)); unit == "" {
				return g.withUnit(kind, p)
			}
		}
		return t
	}
	_, high, _ := strings.Cut(spanned(p), "..")
	if _, unit := splitNumber(strings.TrimSpace(high)); unit == "" {
		return g.withUnit(kind, t)
	}
	return t
}

// withUnit puts the unit of bare numbers behind a text, where the kind has one.
func (g Reading) withUnit(kind Kind, t string) string {
	_, unitless := kinds[kind].find("")
	if _, unit := splitNumber(plain(t)); unitless || !g.Bare || unit != "" && !strings.HasSuffix(t, ")") &&
		spanned(plain(t)) == "" {
		return t
	}
	return join(t, g.unit(kind))
}

// unit is that of bare numbers.
func (g Reading) unit(kind Kind) string {
	if g.Unit != "" {
		return g.Unit
	}
	return g.System.Unit(kind)
}

// comma is what a comma before three digits means with the unit.
func (g Reading) comma(kind Kind, unit string) Comma {
	switch {
	case g.Comma != CommaUnsaid:
		return g.Comma
	case customary(unit):
		return CommaThousands
	case g.Stated && g.System == US && sharedUnit(kind):
		return CommaThousands
	}
	return CommaUnsaid
}

// sharedUnit is true for kinds that both systems print in one unit: only the writer's system
// tells what a comma means there.
func sharedUnit(kind Kind) bool { return kinds[kind].us == kinds[kind].si }

// customary is true for units of US custom.
func customary(unit string) bool {
	u, ok := customaryUnits[strings.ToLower(fold.Replace(unit))]
	return ok && u
}

// customaryUnits are the spellings of units in which only US custom writes.
var customaryUnits = func() map[string]bool {
	out := map[string]bool{}
	for i := range kinds {
		us, ok := kinds[i].find(kinds[i].us)
		if !ok || kinds[i].us == kinds[i].si {
			continue
		}
		for _, n := range us.names {
			out[strings.ToLower(fold.Replace(n))] = true
		}
	}
	for _, n := range []string{
		"in", "inch", "inches", "\"", "mi", "mile", "miles", "yd", "MGD", "cfs", "ft3/s", "gph", "gpd", "in2", "ft3",
		"cu ft", "sq in", "lbf in", "in lbf", "million gallons per day", "cubic feet per second", "ksi",
	} {
		out[strings.ToLower(n)] = true
	}
	return out
}()

// differenceUnit is the unit of a tolerance beside a value in the unit.
func differenceUnit(kind Kind, unit string) string {
	if kind == Temperature {
		if strings.HasSuffix(unit, "F") {
			return "°F"
		}
		return "K"
	}
	return unit
}

// tidy takes zeros behind the point away.
func tidy(t string) string {
	if strings.Contains(t, ".") && !strings.Contains(t, "e") {
		return strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
	}
	return t
}
