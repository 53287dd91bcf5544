package fieldlog

import (
	"bytes"
	"math"
	"strconv"
	"strings"
)

// pow10 are the powers that a float64 holds exactly.
var pow10 = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20,
	1e21, 1e22,
}

// number reads a cell as a number with a decimal point or comma. Numbers of up to 15 digits
// come out as strconv has them.
func number(b []byte, comma bool) (float64, bool) {
	point, group := byte('.'), byte(',')
	if comma {
		point, group = ',', '.'
	}
	var m uint64
	digits, after, i := 0, -1, 0
	negative := false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		negative, i = b[0] == '-', 1
	}
	for ; i < len(b); i++ {
		c := b[i]
		switch {
		case c >= '0' && c <= '9':
			if digits++; digits > 15 {
				return slowNumber(b, comma)
			}
			m = 10*m + uint64(c-'0')
			if after >= 0 {
				after++
			}
		case c == point && after < 0:
			after = 0
		case (c == group || c == '\'' || c == ' ' || c >= 0x80) && digits > 0, c == 'e', c == 'E':
			return slowNumber(b, comma)
		default:
			return 0, false
		}
	}
	if digits == 0 {
		return 0, false
	}
	v := float64(m)
	if after > 0 {
		v /= pow10[after]
	}
	if negative {
		v = -v
	}
	return v, true
}

// slowNumber reads what number leaves: grouped thousands, powers of ten, many digits.
func slowNumber(b []byte, comma bool) (float64, bool) {
	s := string(b)
	if comma {
		s = strings.NewReplacer(".", ",", ",", ".").Replace(s)
	}
	whole, rest, _ := strings.Cut(s, ".")
	if parts := strings.FieldsFunc(whole, isGroup); len(parts) > 1 {
		for i, p := range parts {
			if n := len(strings.TrimLeft(p, "+-")); i == 0 && (n < 1 || n > 3) || i > 0 && len(p) != 3 {
				return 0, false
			}
		}
		s = strings.Join(parts, "")
		if rest != "" {
			s += "." + rest
		}
	}
	if strings.ContainsAny(s, "xXpP_nNiI") {
		return 0, false // other notations of the language are none of a logger
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

func isGroup(r rune) bool {
	return r == ',' || r == '\'' || r == ' ' || r == '\u00a0' || r == '\u202f' || r == '’'
}

// states are words for a pump that runs or stands.
var states = map[string]float64{
	"on": 1, "off": 0, "running": 1, "run": 1, "stopped": 0, "stop": 0, "true": 1, "false": 0, "start": 1,
	"started": 1, "yes": 1, "no": 0, "ein": 1, "aus": 0, "an": 1, "open": 1, "closed": 0, "active": 1, "inactive": 0,
	"marche": 1, "arrêt": 0,
}

// blank reports a cell that says that there is no value.
func blank(b []byte) bool {
	if len(b) == 0 {
		return true
	}
	if len(b) > 12 || b[0] >= '0' && b[0] <= '9' {
		return false
	}
	switch strings.ToLower(string(bytes.Trim(b, "[]<>() "))) {
	case "", "-", "--", "---", "nan", "null", "none", "n/a", "na", "#n/a", "nil", "bad", "no data", "error",
		"i/o timeout",
		"shutdown", "pt created", "bad input", "not connect", "?", ".", "#value!", "#ref!", "#div/0!", "inf", "-inf":
		return true
	}
	return false
}

// damaged says what a spreadsheet did to a cell; empty where nothing is known of.
func damaged(cell string) string {
	switch {
	case strings.HasPrefix(cell, "####"):
		return "the column was too narrow when the table was saved"
	case months[strings.ToLower(strings.Trim(dropDigits(cell), "-. /"))] > 0:
		return "a spreadsheet made a date of a number"
	}
	return ""
}

func dropDigits(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return -1
		}
		return r
	}, s)
}

// good reports a quality code that lets the value stand: words, or the codes of OPC, in which
// 192 and above are good. ok is false for a code that is neither.
func good(b []byte) (isGood, ok bool) {
	if v, isNumber := number(b, false); isNumber {
		return v >= 192, v == 0 || v == 24 || v >= 4 && v < 256
	}
	switch strings.ToLower(string(b)) {
	case "good", "ok", "g", "valid", "gut", "bon", "normal", "good [non-specific]", "a":
		return true, true
	case "bad", "b", "invalid", "uncertain", "u", "fail", "failed", "comm fail", "schlecht", "error", "suspect",
		"stale":
		return false, true
	}
	return false, false
}
