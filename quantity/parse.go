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
}

// Error gives the three parts in one line.
func (e *ParseError) Error() string {
	return fmt.Sprintf("%q is not a %s: %s; expected %s; %s", e.Text, e.Kind, e.Found, e.Expected, e.Mend)
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
// A bare number is refused where the kind needs a unit. The error is a *ParseError.
func Parse(kind Kind, text string) (Quantity, error) {
	r, err := ParseRange(kind, text)
	if err == nil && r.Low != r.High {
		return Quantity{}, fail(kind, text, "a range", "one value", "write the best value alone")
	}
	return r.Best, err
}

// ParseRange reads a quantity that may carry its range: "12..15 L/s" (best is the
// middle), "0.45 kg m2 ± 30 %", "60 ft ± 3 ft" or "0.4 (0.3..0.6) kg m2". The three numbers
// have Digits significant digits in SI.
func ParseRange(kind Kind, text string) (Range, error) {
	r, err := parseRange(kind, text)
	if err != nil {
		return Range{}, err
	}
	return Range{with(r.Low, rounded(r.Low.SI)), with(r.Best, rounded(r.Best.SI)), with(r.High, rounded(r.High.SI))},
		nil
}

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

func parseRange(kind Kind, text string) (Range, error) {
	t := strings.TrimSpace(strings.ReplaceAll(text, "\u00a0", " "))
	t = strings.ReplaceAll(t, "−", "-")
	t = strings.ReplaceAll(t, "+/-", "±")
	if !utf8.ValidString(t) || len(t) > maxText {
		return Range{}, fail(kind, text, "a text that is too long or not readable", example(kind),
			"write one number and one unit")
	}
	if left, right, ok := strings.Cut(t, "±"); ok {
		return parsePlusMinus(kind, text, strings.TrimSpace(left), strings.TrimSpace(right))
	}
	if before, rest, ok := strings.Cut(t, "("); ok {
		inner, tail, closed := strings.Cut(rest, ")")
		if !closed {
			return Range{}, fail(kind, text, "an open bracket", "0.4 (0.3..0.6) and a unit", "close the bracket")
		}
		return parseThree(kind, text, before+" "+tail, inner+" "+tail)
	}
	if strings.Contains(t, "..") {
		return parseSpan(kind, text, t)
	}
	q, err := parseOne(kind, text, t)
	return Range{q, q, q}, err
}

func parsePlusMinus(kind Kind, text, left, right string) (Range, error) {
	best, err := parseOne(kind, text, left)
	if err != nil {
		return Range{}, err
	}
	var half float64
	if share, err := parseOne(Fraction, text, right); err == nil && strings.HasSuffix(right, "%") {
		half = math.Abs(best.SI) * share.SI
	} else {
		d, err := parseOne(differenceOf(kind), text, right)
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

func parseThree(kind Kind, text, bestText, spanText string) (Range, error) {
	best, err := parseOne(kind, text, strings.TrimSpace(bestText))
	if err != nil {
		return Range{}, err
	}
	span, err := parseSpan(kind, text, strings.TrimSpace(spanText))
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

func parseSpan(kind Kind, text, t string) (Range, error) {
	lowText, highText, _ := strings.Cut(t, "..")
	high, err := parseOne(kind, text, strings.TrimSpace(highText))
	if err != nil {
		return Range{}, err
	}
	lowText = strings.TrimSpace(lowText)
	if _, unitText := splitNumber(lowText); unitText == "" {
		lowText += " " + high.Unit // "12..15 L/s": the unit stands once
	}
	low, err := parseOne(kind, text, lowText)
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

func parseOne(kind Kind, text, t string) (Quantity, error) {
	if t == "" {
		return Quantity{}, fail(kind, text, "nothing", example(kind), "write a number and a unit")
	}
	numberText, unitText := splitNumber(t)
	if numberText == "" {
		return Quantity{}, fail(kind, text, fmt.Sprintf("no number before %q", unitText), example(kind),
			"start with the number")
	}
	n, err := parseNumber(numberText)
	if err != nil {
		return Quantity{}, fail(kind, text, err.Error(), example(kind),
			"write the number with a point and without separators, or as 1 1/2")
	}
	info := &kinds[kind]
	found, ok := info.find(unitText)
	if !ok {
		return Quantity{}, unknownUnit(kind, text, numberText, unitText)
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
		"use one of these units (case matters: mm, MGD)")
}

// splitNumber cuts the text where the number ends: digits, signs, points,
// exponents, fractions and the blanks between them belong to the number.
func splitNumber(t string) (number, unit string) {
	end := 0
	for i, r := range t {
		isExponent := (r == 'e' || r == 'E') && i > 0 && i+1 < len(t) && isDigit(t[i-1]) &&
			(isDigit(t[i+1]) || (isSign(t[i+1]) && i+2 < len(t) && isDigit(t[i+2])))
		switch {
		case r >= '0' && r <= '9', r == '.', r == ',', isExponent, vulgar[r] != 0:
			end = i + utf8.RuneLen(r)
		case (r == '-' || r == '+') && (end == 0 || t[i-1] == 'e' || t[i-1] == 'E'):
			end = i + 1
		case r == '/' && end == i && end > 0 && i+1 < len(t) && isDigit(t[i+1]):
			end = i + 1
		case r == ' ' && i+1 < len(t) && isDigit(t[i+1]):
		default:
			return strings.TrimSpace(t[:end]), strings.TrimSpace(t[end:])
		}
	}
	return strings.TrimSpace(t[:end]), strings.TrimSpace(t[end:])
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
func isSign(b byte) bool  { return b == '-' || b == '+' }

var vulgar = map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875}

// parseNumber reads "1.5", "-3e5", "1/2", "1 1/2" and "1½".
func parseNumber(t string) (float64, error) {
	if strings.Contains(t, ",") {
		return 0, fmt.Errorf("a comma in %q", t)
	}
	for r, v := range vulgar {
		if head, ok := strings.CutSuffix(t, string(r)); ok {
			if head = strings.TrimSpace(head); head == "" {
				return v, nil
			}
			n, err := strconv.ParseUint(head, 10, 32)
			if err != nil {
				return 0, fmt.Errorf("an unreadable number %q", t)
			}
			return float64(n) + v, nil
		}
	}
	whole, fraction, mixed := strings.Cut(t, " ")
	if !mixed {
		whole, fraction = "0", t
	}
	num, den, isFraction := strings.Cut(fraction, "/")
	if !isFraction {
		if mixed {
			return 0, fmt.Errorf("two numbers in %q", t)
		}
		v, err := strconv.ParseFloat(t, 64)
		if err != nil || strings.ContainsAny(t, "xXpP_nNiI") {
			return 0, fmt.Errorf("an unreadable number %q", t)
		}
		return v, nil
	}
	w, err1 := strconv.ParseUint(whole, 10, 32)
	a, err2 := strconv.ParseUint(num, 10, 32)
	b, err3 := strconv.ParseUint(den, 10, 32)
	if err1 != nil || err2 != nil || err3 != nil || b == 0 {
		return 0, fmt.Errorf("an unreadable fraction %q", t)
	}
	return float64(w) + float64(a)/float64(b), nil
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
