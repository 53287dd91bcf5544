package levels

import (
	"fmt"
	"strings"

	"seatward/quantity"
)

// ParseRise reads a change of level in a time: "4.5 in in 10 min". The time must be above zero.
func ParseRise(text string, reading quantity.Reading) (riseM, seconds float64, err error) {
	at := strings.LastIndex(text, " in ")
	if at < 0 || strings.HasPrefix(strings.TrimSpace(text[at+len(" in "):]), "/") {
		return 0, 0, fmt.Errorf("%q: a length and a time are expected, such as '4.5 in in 10 min'", text)
	}
	rise, err := reading.Parse(quantity.Length, strings.TrimSpace(text[:at]))
	if err != nil {
		return 0, 0, err
	}
	lasts, err := quantity.Reading{}.Parse(quantity.Time, strings.TrimSpace(text[at+len(" in "):]))
	if err != nil {
		return 0, 0, err
	}
	if !(rise.SI >= 0 && rise.SI < 1000) || !(lasts.SI > 0 && lasts.SI < 1e7) {
		return 0, 0, fmt.Errorf("%q: a length of zero or more and a time above zero are expected", text)
	}
	return rise.SI, lasts.SI, nil
}
