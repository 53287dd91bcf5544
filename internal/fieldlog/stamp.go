package fieldlog

import (
	"bytes"
	"strings"
	"time"
)

// Form is how a table writes its times.
type Form string

// The forms.
const (
	ISO         Form = "year-month-day"
	DayMonth    Form = "day-month-year"
	MonthDay    Form = "month-day-year"
	EpochS      Form = "epoch seconds"
	EpochMS     Form = "epoch milliseconds"
	EpochUS     Form = "epoch microseconds"
	Ticks       Form = "ticks since 1601"
	Serial      Form = "day number"
	Serial1904  Form = "day number from 1904"
	DayOfYear   Form = "year, day of the year, hhmm"
	TimeOfDay   Form = "time of day"
	Cut         Form = "minutes and seconds"
	ElapsedS    Form = "seconds"
	ElapsedMS   Form = "milliseconds"
	ElapsedMin  Form = "minutes"
	ElapsedHour Form = "hours"
	Counted     Form = "no time"
)

// forms lists them, in the order in which a column is tried.
var forms = []Form{
	ISO, DayMonth, MonthDay, EpochS, EpochMS, EpochUS, Ticks, Serial, Serial1904, DayOfYear, TimeOfDay, Cut, ElapsedS,
	ElapsedMS, ElapsedMin, ElapsedHour, Counted,
}

// clock is true for forms that name a day.
func (f Form) clock() bool {
	switch f {
	case TimeOfDay, Cut, ElapsedS, ElapsedMS, ElapsedMin, ElapsedHour, Counted:
		return false
	}
	return true
}

// stamp is a time that was read: ns since 1970, of a clock that may be any.
type stamp struct {
	ns    int64
	zoned bool   // it is an instant
	zone  []byte // that it names
}

var months = map[string]int{
	"jan": 1, "feb": 2, "mar": 3, "apr": 4, "may": 5, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "oct": 10, "nov": 11,
	"dec": 12, "mai": 5, "okt": 10, "dez": 12, "mär": 3, "sept": 9, "january": 1, "february": 2, "march": 3,
	"april": 4,
	"june":  6, "july": 7, "august": 8, "september": 9, "october": 10, "november": 11, "december": 12,
}

const (
	second = int64(time.Second)
	minute = 60 * second
	hour   = 60 * minute
	day    = 24 * hour

	spreadsheetDay = 25_569 // the number of 1970-01-01 counted from 1899-12-30
	apart1904      = 1_462  // days between the two systems of day numbers
	ticksTo1970    = 116_444_736_000_000_000
	firstYear      = 1950
	lastYear       = 2200
)

// read reads a time of the form.
func (f Form) read(b []byte, comma bool) (stamp, bool) {
	switch f {
	case ISO, DayMonth, MonthDay:
		return civil(b, f)
	case TimeOfDay, Cut:
		return ofDay(b, f)
	case Ticks, EpochUS:
		n, ok := whole(b)
		if f == Ticks {
			return stamp{ns: 100 * (n - ticksTo1970), zoned: true}, ok && n > ticksTo1970 && n < 2*ticksTo1970
		}
		return stamp{ns: 1000 * n, zoned: true}, ok && n > 0 && n < 1e16
	}
	v, ok := number(b, comma)
	if !ok {
		return stamp{}, false
	}
	switch f {
	case EpochS:
		return inNS(v, second, true, 1e10)
	case EpochMS:
		return inNS(v, second/1000, true, 1e13)
	case Serial:
		return inNS(v-spreadsheetDay, day, false, 1e5)
	case Serial1904:
		return inNS(v-spreadsheetDay+apart1904, day, false, 1e5)
	case ElapsedS:
		return inNS(v, second, false, 1e9)
	case ElapsedMS:
		return inNS(v, second/1000, false, 1e12)
	case ElapsedMin:
		return inNS(v, minute, false, 1e7)
	case ElapsedHour:
		return inNS(v, hour, false, 1e6)
	}
	return stamp{}, false
}

// inNS keeps a time to the microsecond, which is all that a float64 holds of a day number.
func inNS(v float64, unit int64, zoned bool, below float64) (stamp, bool) {
	if !(v > -below && v < below) {
		return stamp{}, false
	}
	n := int64(v)
	us := int64((v-float64(n))*float64(unit)/1000 + copysign(0.5, v))
	return stamp{ns: n*unit + 1000*us, zoned: zoned}, true
}

func copysign(size, of float64) float64 {
	if of < 0 {
		return -size
	}
	return size
}

// whole reads a whole number of up to 18 digits.
func whole(b []byte) (int64, bool) {
	if len(b) == 0 || len(b) > 18 {
		return 0, false
	}
	var n int64
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int64(c-'0')
	}
	return n, true
}

// scan is a text that is read number by number.
type scan struct{ b []byte }

// digits reads a number of one to most digits, and how many there were.
func (s *scan) digits(most int) (n, count int) {
	for count < len(s.b) && count < most && s.b[count] >= '0' && s.b[count] <= '9' {
		n = 10*n + int(s.b[count]-'0')
		count++
	}
	s.b = s.b[count:]
	return n, count
}

// sign takes one of the signs; 0 where none of them is next.
func (s *scan) sign(any string) byte {
	if len(s.b) == 0 || strings.IndexByte(any, s.b[0]) < 0 {
		return 0
	}
	c := s.b[0]
	s.b = s.b[1:]
	return c
}

func (s *scan) blanks() {
	for len(s.b) > 0 && s.b[0] == ' ' {
		s.b = s.b[1:]
	}
}

// name reads letters as the name of a month.
func (s *scan) name() int {
	n := 0
	for n < len(s.b) && (s.b[n] >= 0x80 || s.b[n]|0x20 >= 'a' && s.b[n]|0x20 <= 'z') {
		n++
	}
	m := months[strings.ToLower(string(s.b[:n]))]
	s.b = s.b[n:]
	return m
}

// civil reads a date with an optional time and zone.
func civil(b []byte, f Form) (stamp, bool) {
	s := &scan{b}
	var v [3]int
	var n [3]int
	named := -1
	for i := range v {
		if i > 0 && s.sign("-./ ") == 0 {
			return stamp{}, false
		}
		s.blanks()
		if v[i], n[i] = s.digits(4); n[i] == 0 {
			if v[i] = s.name(); v[i] == 0 || named >= 0 {
				return stamp{}, false
			}
			named = i
		}
	}
	y, m, d := v[0], v[1], v[2]
	switch {
	case f == ISO && n[0] != 4, f != ISO && n[2] != 4 && n[2] != 2:
		return stamp{}, false
	case f == DayMonth && named != 0 || f != ISO && named == 1:
		y, m, d = v[2], v[1], v[0]
	case f != ISO:
		y, m, d = v[2], v[0], v[1]
	}
	if f != ISO && n[2] == 2 {
		y += 2000
	}
	if y < firstYear || y > lastYear || m < 1 || m > 12 || d < 1 || d > daysIn(y, m) {
		return stamp{}, false
	}
	date := daysTo(y, m, d) * day
	if len(s.b) == 0 {
		return stamp{ns: date}, true
	}
	if s.sign("T ,_") == 0 {
		return stamp{}, false
	}
	s.blanks()
	at, ok := s.clock()
	if !ok {
		return stamp{}, false
	}
	var name []byte
	s.b, name = zoneAfter(s.b)
	shift, zoned, ok := s.zone()
	return stamp{ns: date + at - shift, zoned: zoned, zone: name}, ok
}

// clock reads hours, minutes and seconds with their fraction, and AM or PM.
func (s *scan) clock() (int64, bool) {
	h, n := s.digits(2)
	if n == 0 || s.sign(":.h") == 0 {
		return 0, false
	}
	m, n := s.digits(2)
	if n == 0 || h > 24 || m > 59 {
		return 0, false
	}
	ns := int64(h)*hour + int64(m)*minute
	if s.sign(":.m") != 0 {
		sec, n := s.digits(2)
		if n == 0 || sec > 60 {
			return 0, false
		}
		ns += int64(sec) * second
		if s.sign(".,:") != 0 {
			frac, n := s.digits(9)
			if n == 0 {
				return 0, false
			}
			ns += int64(frac) * int64(pow10[9-n])
		}
	}
	s.blanks()
	if len(s.b) >= 2 && s.b[1]|0x20 == 'm' && (len(s.b) == 2 || !isLetter(rune(s.b[2]))) {
		switch s.b[0] | 0x20 {
		case 'p':
			if h < 12 {
				ns += 12 * hour
			}
		case 'a':
			if h == 12 {
				ns -= 12 * hour
			}
		default:
			return 0, false
		}
		s.b = s.b[2:]
		s.blanks()
	}
	return ns, true
}

// zone reads what follows the time: nothing, Z, UTC, or an offset.
func (s *scan) zone() (shift int64, zoned, ok bool) {
	switch string(bytes.ToUpper(s.b)) {
	case "":
		return 0, false, true
	case "Z", "UTC", "GMT":
		return 0, true, true
	}
	sign := s.sign("+-")
	h, n := s.digits(2)
	if sign == 0 || n != 2 || h > 14 {
		return 0, false, false
	}
	s.sign(":")
	m, n := s.digits(2)
	if n == 1 || m > 59 || len(s.b) > 0 {
		return 0, false, false
	}
	shift = int64(h)*hour + int64(m)*minute
	if sign == '-' {
		shift = -shift
	}
	return shift, true, true
}

// ofDay reads a time without a day: hh:mm:ss, or what a spreadsheet leaves of it, mm:ss.0.
func ofDay(b []byte, f Form) (stamp, bool) {
	s := &scan{b}
	if f == TimeOfDay {
		at, ok := s.clock()
		return stamp{ns: at}, ok && len(s.b) == 0 && bytes.Count(b, []byte(":")) == 2
	}
	m, n := s.digits(2)
	if n == 0 || m > 59 || s.sign(":") == 0 {
		return stamp{}, false
	}
	sec, n := s.digits(2)
	if n != 2 || sec > 59 || s.sign(".,") == 0 {
		return stamp{}, false
	}
	tenth, n := s.digits(1)
	return stamp{ns: int64(m)*minute + int64(sec)*second + int64(tenth)*second/10}, n == 1 && len(s.b) == 0
}

// daysTo counts the days from 1970-01-01 (H. Hinnant's algorithm for the Gregorian calendar,
// public domain; held against package time by test).
func daysTo(y, m, d int) int64 {
	if m <= 2 {
		y--
		m += 12
	}
	era := y / 400
	yoe := y - era*400
	doy := (153*(m-3)+2)/5 + d - 1
	doe := yoe*365 + yoe/4 - yoe/100 + doy
	return int64(era*146097+doe) - 719468
}

func daysIn(y, m int) int {
	switch m {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if y%4 == 0 && (y%100 != 0 || y%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}
