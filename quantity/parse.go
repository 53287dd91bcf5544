package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// ParseError says why a text is not a quantity of the wanted kind.
type ParseError struct {
	Text     string // what stood there, shortened
	Kind     Kind
	Found    string // what was found wrong
	Expected string // what would be right
	Mend     string // how to mend it
	// Choices are what the text may mean, each as it would be read without doubt; nil where
	// nothing is in doubt.
	Choices []string
}

// Error gives the three parts in one line.
func (e *ParseError) Error() string {
	return fmt.Sprintf("%q is not %s: %s; expected %s; %s", e.Text, e.Kind.One(), e.Found, e.Expected, e.Mend)
}

// maxText is the longest text that can be a quantity; longer is refused unread.
const maxText = 80

// Range is a quantity with the least and greatest value it may have.
// Low == Best == High where no range was written.
type Range struct {
	Low, Best, High Quantity
}

// Digits are the significant digits that a quantity is read to, in SI. No input has as many;
// so one number in two systems of units ("8.2 ft" and "2.49936 m") is one number to the last
// bit, where conversion alone leaves a difference in the sixteenth digit. Runs in which a
// valve closes a swing earlier or later for less than that are the same run then.
const Digits = 12

// Parse reads a quantity of the kind, such as "450 gpm", "1 1/2 in" or "60 °F".
// A bare number is refused where the kind needs a unit; Reading.Parse takes it in a system's
// unit. The error is a *ParseError.
func Parse(kind Kind, text string) (Quantity, error) { return Reading{}.Parse(kind, text) }

// ParseRange reads a quantity that may carry its range: "12..15 L/s" or "12 to 15 L/s" (best is
// the middle), "0.45 kg m2 ± 30 %", "60 ft ± 3 ft" or "0.4 (0.3..0.6) kg m2". The three numbers
// have Digits significant digits in SI.
func ParseRange(kind Kind, text string) (Range, error) { return Reading{}.ParseRange(kind, text) }

// rounded has Digits significant digits.
func rounded(x float64) float64 { return toDigits(x, Digits) }

// toDigits has n significant digits.
func toDigits(x float64, n int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', n-1, 64), 64)
	if err != nil {
		return x // next to the greatest number there is
	}
	return y
}

func (g Reading) parseRange(kind Kind, text string) (Range, error) {
	t := plain(text)
	if !utf8.ValidString(text) || len(t) > maxText {
		return Range{}, fail(kind, text, "a text that is too long or not readable", example(kind),
			"write one number and one unit")
	}
	if left, right, ok := strings.Cut(t, "±"); ok {
		return g.parsePlusMinus(kind, text, strings.TrimSpace(left), strings.TrimSpace(right))
	}
	if before, rest, ok := strings.Cut(t, "("); ok {
		inner, tail, closed := strings.Cut(rest, ")")
		if !closed {
			return Range{}, fail(kind, text, "an open bracket", "0.4 (0.3..0.6) and a unit", "close the bracket")
		}
		if tail = strings.TrimSpace(tail); strings.TrimSpace(before) == "" || strings.IndexAny(tail, "0123456789") == 0 {
			return Range{}, fail(kind, text, "a bracket that does not follow the best value", "0.4 (0.3..0.6) and a unit",
				"write the best value, its range in brackets, and the unit")
		}
		return g.parseThree(kind, text, before+" "+tail, inner+" "+tail)
	}
	if span := spanned(t); span != "" {
		return g.parseSpan(kind, text, span)
	}
	q, err := g.parseOne(kind, text, t)
	return Range{q, q, q}, err
}

func (g Reading) parsePlusMinus(kind Kind, text, left, right string) (Range, error) {
	best, err := g.parseOne(kind, text, left)
	if err != nil {
		return Range{}, err
	}
	var half float64
	if share, err := g.parseOne(Fraction, text, right); err == nil && strings.HasSuffix(right, "%") {
		half = math.Abs(best.SI) * share.SI
	} else {
		if _, unit := splitNumber(right); unit == "" && g.Bare {
			right += " " + differenceUnit(kind, best.Unit)
		}
		d, err := g.parseOne(differenceOf(kind), text, right)
		if err != nil {
			return Range{}, err
		}
		half = d.SI
	}
	if half < 0 {
		return Range{}, fail(kind, text, "a negative tolerance", example(kind)+" ± 10 %", "write a positive tolerance")
	}
	if math.IsInf(best.SI-half, 0) || math.IsInf(best.SI+half, 0) {
		return Range{}, outOfRange(kind, text)
	}
	return Range{with(best, best.SI-half), best, with(best, best.SI+half)}, nil
}

func (g Reading) parseThree(kind Kind, text, bestText, spanText string) (Range, error) {
	best, err := g.parseOne(kind, text, strings.TrimSpace(bestText))
	if err != nil {
		return Range{}, err
	}
	span, err := g.parseSpan(kind, text, strings.TrimSpace(spanText))
	if err != nil {
		return Range{}, err
	}
	if best.SI < span.Low.SI || best.SI > span.High.SI {
		return Range{}, fail(kind, text, "a best value outside its range", "low..high around the value",
			"widen the range or mend the value")
	}
	span.Best = best
	return span, nil
}

func (g Reading) parseSpan(kind Kind, text, t string) (Range, error) {
	lowText, highText, _ := strings.Cut(t, "..")
	high, err := g.parseOne(kind, text, strings.TrimSpace(highText))
	if err != nil {
		return Range{}, err
	}
	lowText = strings.TrimSpace(lowText)
	if _, unitText := splitNumber(lowText); unitText == "" {
		lowText += " " + high.Unit // "12..15 L/s": the unit stands once
	}
	low, err := g.parseOne(kind, text, lowText)
	if err != nil {
		return Range{}, err
	}
	if low.SI > high.SI {
		return Range{}, fail(kind, text, "a range that runs down", "low..high", "put the smaller value first")
	}
	return Range{low, with(high, middle(low.SI, high.SI)), high}, nil
}

// middle is the mean of two numbers of which the sum may be out of range.
func middle(low, high float64) float64 {
	if sum := low + high; !math.IsInf(sum, 0) {
		return sum / 2
	}
	return low/2 + high/2
}

func with(q Quantity, si float64) Quantity { q.SI = si; return q }

func differenceOf(k Kind) Kind {
	if k == Temperature {
		return TemperatureDifference
	}
	return k
}

func (g Reading) parseOne(kind Kind, text, t string) (Quantity, error) {
	if t == "" {
		return Quantity{}, fail(kind, text, "nothing", example(kind), "write a number and a unit")
	}
	if q, found, err := feetAndInches(kind, text, t); found {
		return q, err
	}
	numberText, unitText := splitNumber(t)
	if numberText == "" {
		return Quantity{}, fail(kind, text, fmt.Sprintf("no number before %q", unitText), example(kind),
			"start with the number")
	}
	if unitText == "" && g.Bare {
		if _, ok := kinds[kind].find(""); !ok {
			unitText = g.unit(kind)
		}
	}
	info := &kinds[kind]
	found, ok := info.find(unitText)
	if !ok {
		return Quantity{}, unknownUnit(kind, text, numberText, unitText)
	}
	n, err := g.number(kind, text, numberText, unitText)
	if err != nil {
		return Quantity{}, err
	}
	si := n*found.factor + found.offset
	if math.IsInf(si, 0) || math.IsNaN(si) {
		return Quantity{}, outOfRange(kind, text)
	}
	return Quantity{SI: si, Kind: kind, Unit: unitText}, nil
}

func unknownUnit(kind Kind, text, numberText, unitText string) error {
	expected := "one of: " + strings.Join(kind.Units(), ", ")
	if unitText == "" {
		return fail(kind, text, "a bare number", "a unit, "+expected,
			fmt.Sprintf("write for example %q", strings.TrimSpace(numberText)+" "+kind.Units()[0]))
	}
	if others := kindsWithUnit(unitText); len(others) > 0 {
		return fail(kind, text, fmt.Sprintf("%q is a unit of %s", unitText, strings.Join(others, " or ")), expected,
			"use a unit of "+kind.String())
	}
	return fail(kind, text, fmt.Sprintf("unknown unit %q", unitText), expected,
		"use one of these units")
}

func fail(kind Kind, text, found, expected, mend string) *ParseError {
	if len(text) > 40 {
		text = strings.ToValidUTF8(text[:40], "") + "..."
	}
	return &ParseError{Text: text, Kind: kind, Found: found, Expected: expected, Mend: mend}
}

func outOfRange(kind Kind, text string) *ParseError {
	return fail(kind, text, "a number too large to compute with", example(kind), "check the exponent")
}

func example(k Kind) string {
	if k == Number || k == Cost {
		return "a number such as 2"
	}
	return "a number and a unit such as " + strconv.Quote("2 "+k.Units()[0])
}
