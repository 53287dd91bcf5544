package quantity

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// typed makes signs that keyboards, word processors and spreadsheets put into numbers plain.
var typed = strings.NewReplacer(
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\t", " ", "−", "-", "–", "-", "+/-", "±", "+-", "±",
	"′", "'", "’", "'", "‘", "'", "´", "'", "″", "\"", "”", "\"", "“", "\"", "''", "\"", "⁄", "/",
)

func plain(text string) string { return strings.TrimSpace(typed.Replace(text)) }

// splitNumber cuts the text where the number ends: digits, signs, points, commas,
// exponents, fractions and the blanks and dashes between them belong to the number.
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
		case r == '-' && end == i && i+1 < len(t) && isDigit(t[i+1]): // 2-1/2
			end = i + 1
		case r == '/' && end == i && end > 0 && i+1 < len(t) && isDigit(t[i+1]):
			end = i + 1
		case r == ' ' && i+1 < len(t) && (isDigit(t[i+1]) || vulgar[runeAt(t[i+1:])] != 0):
		default:
			return cutUnit(t[:end], t[end:])
		}
	}
	return cutUnit(t[:end], t[end:])
}

func runeAt(t string) rune { r, _ := utf8.DecodeRuneInString(t); return r }

// cutUnit takes the dash away that joins number and unit in "6-inch".
func cutUnit(number, unit string) (string, string) {
	unit = strings.TrimSpace(unit)
	if rest, ok := strings.CutPrefix(unit, "-"); ok && rest != "" && !isDigit(rest[0]) {
		unit = strings.TrimSpace(rest)
	}
	return strings.TrimSpace(number), unit
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
func isSign(b byte) bool  { return b == '-' || b == '+' }

var vulgar = map[rune]float64{
	'½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875, '⅓': 1.0 / 3, '⅔': 2.0 / 3,
}

// Commas and points that group digits, or part whole and decimals.
var (
	oneGroup   = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)              // 1,046: which?
	thousands  = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d*)?$`)   // 1,046.5 and 1,046,000
	spaced     = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}( \d{3})+([.,]\d+)?$`) // 1 046,5
	pointed    = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(\.\d{3})+,\d+$`)      // 1.046,5
	points     = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(\.\d{3}){2,}$`)       // 1.046.000
	decimal    = regexp.MustCompile(`^[+-]?\d+,\d+$`)                         // 14,5
	mixed      = regexp.MustCompile(`^(\d+)(?: *- *| +)(\d+) ?/ ?(\d+)$`)     // 2 1/2 and 2-1/2
	vulgarTail = regexp.MustCompile(`^(\d*)[ -]*([½¼¾⅛⅜⅝⅞⅓⅔])$`)              // 2½
	noNumber   = "xXpP_nNiI"                                                  // that strconv takes and people do not write
	decimalFor = strings.NewReplacer(".", "", " ", "", ",", ".")              // point groups away, comma to point
	pointFor   = strings.NewReplacer(",", "", " ", "")                        // comma groups away
)

// number reads "1.5", "-3e5", "1/2", "1 1/2", "2-1/2", "1½", "1,046", "14,5" and the like.
// A comma before three digits groups thousands with a unit of US custom, parts decimals where
// the reading says so, and is in doubt otherwise.
func (g Reading) number(kind Kind, text, t, unit string) (float64, error) {
	switch {
	case oneGroup.MatchString(t):
		grouped, parted := pointFor.Replace(t), decimalFor.Replace(t)
		switch g.comma(kind, unit) {
		case CommaThousands:
			return strconv.ParseFloat(grouped, 64)
		case CommaDecimal:
			return strconv.ParseFloat(parted, 64)
		}
		e := fail(kind, text, "a comma that may part decimals or group thousands", "a number without doubt, such as "+
			join(parted, unit)+" or "+join(grouped, unit), "write "+join(parted, unit)+" or "+join(grouped, unit))
		e.Choices = []string{join(parted, unit), join(grouped, unit)}
		return 0, e
	case thousands.MatchString(t):
		return strconv.ParseFloat(pointFor.Replace(t), 64)
	case spaced.MatchString(t):
		return strconv.ParseFloat(strings.ReplaceAll(strings.ReplaceAll(t, " ", ""), ",", "."), 64)
	case pointed.MatchString(t), points.MatchString(t):
		return strconv.ParseFloat(decimalFor.Replace(t), 64)
	case decimal.MatchString(t):
		v := decimalFor.Replace(t)
		if g.comma(kind, unit) == CommaThousands {
			e := fail(kind, text, fmt.Sprintf("a comma in %q that groups no thousands", t), join(v, unit),
				"write the number with a point: "+join(v, unit))
			e.Choices = []string{join(v, unit)}
			return 0, e
		}
		return strconv.ParseFloat(v, 64)
	}
	v, err := parseNumber(t)
	if err != nil {
		return 0, fail(kind, text, err.Error(), example(kind),
			"write the number with a point and without separators, or as 1 1/2")
	}
	return v, nil
}

// parseNumber reads numbers without groups: "1.5", "-3e5", "1/2", "1 1/2", "2-1/2" and "1½".
func parseNumber(t string) (float64, error) {
	if m := vulgarTail.FindStringSubmatch(t); m != nil {
		whole, err := strconv.ParseUint("0"+m[1], 10, 32)
		if err != nil {
			return 0, fmt.Errorf("an unreadable number %q", t)
		}
		return float64(whole) + vulgar[runeAt(m[2])], nil
	}
	whole, num, den := "0", "", ""
	if m := mixed.FindStringSubmatch(t); m != nil {
		whole, num, den = m[1], m[2], m[3]
	} else if n, d, isFraction := strings.Cut(t, "/"); isFraction {
		num, den = n, d
	} else {
		v, err := strconv.ParseFloat(t, 64)
		switch {
		case strings.ContainsAny(t, " ") || strings.LastIndexByte(t, '-') > 0 && !strings.ContainsAny(t, "eE"):
			return 0, fmt.Errorf("two numbers in %q", t)
		case err != nil || strings.ContainsAny(t, noNumber):
			return 0, fmt.Errorf("an unreadable number %q", t)
		}
		return v, nil
	}
	w, err1 := strconv.ParseUint(whole, 10, 32)
	a, err2 := strconv.ParseUint(strings.TrimSpace(num), 10, 32)
	b, err3 := strconv.ParseUint(strings.TrimSpace(den), 10, 32)
	if err1 != nil || err2 != nil || err3 != nil || b == 0 {
		return 0, fmt.Errorf("an unreadable fraction %q", t)
	}
	return float64(w) + float64(a)/float64(b), nil
}

// feetInches is 46' 6", 46'-6 1/2" and 46 ft 6 in.
var feetInches = regexp.MustCompile(
	`^([+-]?)([\d,]+) *(?:'|ft\.?|feet|foot) *-? *([\d./½¼¾⅛⅜⅝⅞ -]+?) *-?(?:("|in\.?|inch|inches))?$`)

// feetAndInches reads a length of two numbers; found is false where the text is none.
func feetAndInches(kind Kind, text, t string) (q Quantity, found bool, err error) {
	if _, long := kinds[kind].find("ft"); !long || !strings.ContainsAny(t, "'f") {
		return Quantity{}, false, nil
	}
	m := feetInches.FindStringSubmatch(t)
	if m == nil {
		return Quantity{}, false, nil
	}
	feet, err1 := Reading{System: US, Stated: true}.number(kind, text, m[2], "ft")
	inches, err2 := parseNumber(m[3])
	switch {
	case err1 != nil || err2 != nil:
		err = fail(kind, text, "feet and inches that cannot be read", `feet and inches such as 46' 6"`,
			"write whole feet and then inches, or one number")
	case m[4] == "":
		err = fail(kind, text, "a second number without a unit", `feet and inches such as 46' 6"`,
			"write the inch mark, or one number")
	case feet != float64(int64(feet)) || !(inches >= 0 && inches < 12):
		err = fail(kind, text, "feet and inches that do not go together", `whole feet and less than 12 in, such as 46' 6"`,
			"carry whole feet over, or write one number")
	}
	if err != nil {
		return Quantity{}, true, err
	}
	si := feet*foot + inches*inch
	if m[1] == "-" {
		si = -si
	}
	return Quantity{SI: si, Kind: kind, Unit: "ft"}, true, nil
}

// A span is two numbers, the second with the unit: 12-15 L/s, 12 to 15 L/s.
var spans = regexp.MustCompile(`^(.*[^ ]) *(?:\.\.|…| to )(.*)$`)

// dashed is a span with a dash between plain numbers; 2-1/2 is none.
var dashed = regexp.MustCompile(`^(\d[\d.,]*)(?:-| - )(\d[\d.,]*(?: *(?:[^\d /.,-]|/[^\d ]).*)?)$`)

// spanned is the text as low..high; "" where it is no span.
func spanned(t string) string {
	if i := strings.Index(t, ".."); i >= 0 {
		return t
	}
	if m := spans.FindStringSubmatch(t); m != nil {
		return m[1] + ".." + m[2]
	}
	if m := dashed.FindStringSubmatch(t); m != nil {
		return m[1] + ".." + m[2]
	}
	return ""
}
