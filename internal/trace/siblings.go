package trace

import (
	"cmp"
	"math"
	"slices"

	"seatward/basis"
	"seatward/quantity"
)

// Logged is a channel as pumps are compared by: Held keeps its value until the next one.
type Logged struct {
	Source
	Held bool
}

// PumpLog is what a log holds of one pump; channels that it does not hold are nil.
type PumpLog struct {
	Number             int
	State, Power, Flow *Logged
}

// Sibling is what one pump does while it runs by itself, or has a flow of its own.
type Sibling struct {
	Pump     int     `json:"pump"`
	Readings int     `json:"readings"`
	PowerW   float64 `json:"power_w"`
	FlowM3S  *Mean   `json:"flow,omitempty"`              // m³/s
	Energy   *Mean   `json:"energy_per_volume,omitempty"` // J/m³
	LevelM   float64 `json:"level_m,omitempty"`
	Starts   int     `json:"starts"`
	PerDay   *Mean   `json:"starts_per_day,omitempty"`

	rows []row
}

// Mean is a mean with its standard error.
type Mean struct {
	Value float64 `json:"value"`
	Error float64 `json:"standard_error"`
}

// Apart is a difference of two pumps that should be alike.
type Apart struct {
	First  int     `json:"first"`
	Second int     `json:"second"`
	What   string  `json:"what"`  // energy per volume, flow, starts per day
	Share  float64 `json:"share"` // first over second, less one
	Half   float64 `json:"half"`  // of its 95 % interval
	Level  bool    `json:"at_equal_levels"`
	Clear  bool    `json:"clear"` // more than chance
}

// row is one reading of a pump that runs.
type row struct {
	at                 int64
	power, flow, level float64
}

const (
	alikePower  = 0.25 // share by which the powers of pumps that are alike may differ
	leastRows   = 20   // readings of each, to compare them
	likelyHalf  = 1.96
	shortestDay = 0.5 // days, below which starts are not counted
)

// Siblings compares pumps of like power. Station flow and level may be nil.
func Siblings(pumps []PumpLog, flow, level *Logged, ops []Operation) (all []Sibling, apart []Apart) {
	if len(pumps) < 2 {
		return nil, nil
	}
	for i := range pumps {
		all = append(all, *alone(pumps, i, flow, level, ops))
	}
	for i := range all {
		for k := i + 1; k < len(all); k++ {
			a, b := &all[i], &all[k]
			if math.Abs(a.PowerW-b.PowerW) > alikePower*math.Max(a.PowerW, b.PowerW) {
				continue
			}
			if a.PerDay != nil && b.PerDay != nil && b.PerDay.Value > 0 {
				apart = append(apart, between(a, b, "starts per day", *a.PerDay, *b.PerDay, false))
			}
			if len(a.rows) < leastRows || len(b.rows) < leastRows {
				continue
			}
			for _, what := range []struct {
				name string
				of   func(r row) float64
			}{{"energy per volume", row.energy}, {"flow", func(r row) float64 { return r.flow }}} {
				x, y, equal := atEqualLevels(a.rows, b.rows, what.of, level != nil)
				apart = append(apart, between(a, b, what.name, x, y, equal))
			}
		}
	}
	return all, apart
}

func (r row) energy() float64 { return r.power / r.flow }

func between(a, b *Sibling, what string, x, y Mean, equal bool) Apart {
	share, half := ShareApart(x, y)
	clear := math.Abs(x.Value-y.Value) > likelyHalf*math.Hypot(x.Error, y.Error)
	return Apart{a.Pump, b.Pump, what, share, half, equal, clear}
}

// ShareApart is how far one mean lies above another, as a share of the second, with half of its
// 95 % interval: x/y − 1 ± 1.96 (x/y) √((u_x/x)² + (u_y/y)²).
func ShareApart(x, y Mean) (share, half float64) {
	ratio := x.Value / y.Value
	return ratio - 1, likelyHalf * math.Abs(ratio) * math.Hypot(x.Error/x.Value, y.Error/y.Value)
}

// ShareApartFormula is ShareApart.
var ShareApartFormula = basis.Formula{
	ID: "share-apart", Title: "Difference of two pumps that should be alike",
	Expr: "d = x/y − 1 ± 1.96 (x/y) √((u_x/x)² + (u_y/y)²)", Symbols: []string{"x", "u_x", "y", "u_y"},
	Kind: quantity.Fraction, Ref: basis.DerivedHere,
	Range: "independent errors, small beside the means; errors of the meters are not in it",
}

// alone reads one pump where its flow is known: its own, or that of the station while it runs by
// itself. A reading counts where those beside it show the same pumps: at the ends of a run a mean
// holds both.
func alone(pumps []PumpLog, i int, flow, level *Logged, ops []Operation) *Sibling {
	p := &pumps[i]
	out := &Sibling{Pump: p.Number}
	lead := p.Power
	if lead == nil {
		lead = p.State
	}
	if lead == nil {
		return out
	}
	own := p.Flow
	if own == nil {
		own = flow
	}
	scale := make([]float64, len(pumps))
	for k := range pumps {
		scale[k] = pumps[k].scale()
	}
	powers, n := 0.0, 0
	var before, now, next []bool
	at := func(k int) []bool {
		if k < 0 || k >= lead.Len() {
			return nil
		}
		return running(pumps, scale, lead.Time(k))
	}
	now, next = at(0), at(1)
	for k := range lead.Len() {
		if k > 0 {
			before, now, next = now, next, at(k+1)
		}
		if now == nil || !now[i] || !slices.Equal(before, now) || !slices.Equal(now, next) {
			continue
		}
		r := row{at: lead.Time(k), level: math.NaN()}
		ok := false
		if p.Power != nil {
			if r.power, ok = p.Power.at(r.at); ok {
				powers, n = powers+r.power, n+1
			}
		}
		if p.Flow == nil && count(now) > 1 || own == nil || !ok {
			continue
		}
		if r.flow, ok = own.at(r.at); !ok || r.flow <= 0 {
			continue
		}
		if level != nil {
			if v, ok := level.at(r.at); ok {
				r.level = v
			}
		}
		out.rows = append(out.rows, r)
	}
	if n > 0 {
		out.PowerW = powers / float64(n)
	}
	out.sum(lead, ops)
	return out
}

// sum takes the means.
func (x *Sibling) sum(lead *Logged, ops []Operation) {
	x.Readings = len(x.rows)
	if len(x.rows) >= leastRows {
		e, q := meanOf(x.rows, row.energy), meanOf(x.rows, func(r row) float64 { return r.flow })
		x.Energy, x.FlowM3S = &e, &q
		if l := meanOf(x.rows, func(r row) float64 { return r.level }); !math.IsNaN(l.Value) {
			x.LevelM = l.Value
		}
	}
	for _, op := range ops {
		if op.Start && op.Pump == x.Pump {
			x.Starts++
		}
	}
	if n := lead.Len(); n > 1 {
		if days := float64(lead.Time(n-1)-lead.Time(0)) * nanosecond / 86400; days >= shortestDay && x.Starts > 0 {
			x.PerDay = &Mean{float64(x.Starts) / days, math.Sqrt(float64(x.Starts)) / days}
		}
	}
}

// meanOf is the mean of readings one after another, with an error that counts neighbors that go
// together as fewer: n (1 − r)/(1 + r), r the correlation of neighbors.
func meanOf(rows []row, of func(r row) float64) Mean {
	n := float64(len(rows))
	mean, square, together := 0.0, 0.0, 0.0
	for _, r := range rows {
		mean += of(r) / n
	}
	last := math.NaN()
	for _, r := range rows {
		d := of(r) - mean
		square += d * d
		if !math.IsNaN(last) {
			together += d * last
		}
		last = d
	}
	if square == 0 || n < 3 {
		return Mean{mean, 0}
	}
	c := math.Max(0, math.Min(0.95, together/square))
	return Mean{mean, math.Sqrt(square / (n - 1) / math.Max(2, n*(1-c)/(1+c)))}
}

// atEqualLevels are the means of two pumps. Where the level is known and both ran at common ones
// they are laid on one level, by the slope that both share: the lift is then the same.
func atEqualLevels(a, b []row, of func(r row) float64, known bool) (x, y Mean, equal bool) {
	x, y = meanOf(a, of), meanOf(b, of)
	level := func(r row) float64 { return r.level }
	la, lb := meanOf(a, level), meanOf(b, level)
	if !known || math.IsNaN(la.Value) || math.IsNaN(lb.Value) || !overlap(a, b) {
		return x, y, false
	}
	var together, square float64
	for _, g := range []struct {
		rows  []row
		level float64
		value float64
	}{{a, la.Value, x.Value}, {b, lb.Value, y.Value}} {
		for _, r := range g.rows {
			together += (r.level - g.level) * (of(r) - g.value)
			square += (r.level - g.level) * (r.level - g.level)
		}
	}
	if square == 0 {
		return x, y, false
	}
	slope, middle := together/square, (la.Value+lb.Value)/2
	laid := func(rows []row) Mean {
		return meanOf(rows, func(r row) float64 { return of(r) - slope*(r.level-middle) })
	}
	x, y = laid(a), laid(b)
	n := float64(len(a) + len(b))
	scatter := math.Hypot(x.Error*math.Sqrt(float64(len(a))), y.Error*math.Sqrt(float64(len(b)))) / math.Sqrt2
	bySlope := scatter / math.Sqrt(square/n) / math.Sqrt(n) * math.Abs(la.Value-lb.Value) / 2
	x.Error, y.Error = math.Hypot(x.Error, bySlope), math.Hypot(y.Error, bySlope)
	return x, y, true
}

// overlap is true where the levels of two pumps meet, the outer tenths aside.
func overlap(a, b []row) bool {
	span := func(rows []row) (low, high float64) {
		var v []float64
		for _, r := range rows {
			v = append(v, r.level)
		}
		slices.Sort(v)
		return v[len(v)/10], v[len(v)-1-len(v)/10]
	}
	low1, high1 := span(a)
	low2, high2 := span(b)
	return math.Max(low1, low2) < math.Min(high1, high2)
}

// count is how many are true.
func count(all []bool) int {
	n := 0
	for _, x := range all {
		if x {
			n++
		}
	}
	return n
}

// scale is what a running pump shows in the channel that tells of it.
func (p *PumpLog) scale() float64 {
	for _, c := range []*Logged{p.State, p.Power, p.Flow} {
		if c != nil {
			v, _ := usual(c)
			return v
		}
	}
	return 0
}

// running says which pumps run at a time; nil where that is not known.
func running(pumps []PumpLog, scale []float64, at int64) []bool {
	out := make([]bool, len(pumps))
	for k := range pumps {
		c := pumps[k].State
		if c == nil {
			c = pumps[k].Power
		}
		if c == nil {
			c = pumps[k].Flow
		}
		if c == nil {
			continue
		}
		v, ok := c.at(at)
		if !ok {
			return nil
		}
		out[k] = v > onShare*scale[k]
	}
	return out
}

// at is the value at a time: at that very time, or the one that holds then.
func (l *Logged) at(ns int64) (float64, bool) {
	i := rowAt(l, ns)
	if i < l.Len() && l.Time(i) == ns {
		return l.At(i)
	}
	if !l.Held || i == 0 {
		return 0, false
	}
	return l.At(i - 1)
}

// Clearest puts the greatest clear differences first.
func Clearest(all []Apart) []Apart {
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b Apart) int {
		if a.Clear != b.Clear {
			if a.Clear {
				return -1
			}
			return 1
		}
		return cmp.Compare(math.Abs(b.Share), math.Abs(a.Share))
	})
	return out
}
