package desk

import (
	"cmp"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"math"
	"slices"

	"github.com/invopop/jsonschema"

	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// Number is a float64 that JSON shows as null where there is none.
type Number float64

// MarshalJSON gives null for what is not finite.
func (n Number) MarshalJSON() ([]byte, error) {
	if finite(float64(n)) == nil {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// JSONSchema says so.
func (Number) JSONSchema() *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "number"}, {Type: "null"}}}
}

// Film is a run as pictures in time. Heads are above the trip's datum.
type Film struct {
	TimeS      []float64    `json:"t"`
	ChainageM  []float64    `json:"x_m"`
	ElevationM []float64    `json:"elevation_m"` // of the pipe
	GroundM    []float64    `json:"ground_m"`    // over the pipe; empty where not given
	LimitM     []Number     `json:"limit_m"`     // head at the pipe's rating; null where not known
	VaporM     []float64    `json:"vapor_m"`     // head at which the liquid boils
	Heads      string       `json:"heads"`       // base64 of little-endian float32, place by place for each time
	HeadMin    []float64    `json:"head_min"`    // of the whole run
	HeadMax    []float64    `json:"head_max"`
	Traces     Traces       `json:"traces"`
	Exact      Exact        `json:"exact"`      // the readings of every step of the run, as its CSV has them
	Opening    []Number     `json:"opening"`    // share of the stroke
	Velocity   []Number     `json:"velocity"`   // in the bore, m/s
	PumpSpeed  []Number     `json:"pump_speed"` // over full speed
	Cutaway    Cutaway      `json:"cutaway"`
	Moments    []FilmMoment `json:"moments"`
	Slams      []FilmSlam   `json:"slams"` // seatings of the valve, in order
	Events     []FilmEvent  `json:"events"`
	Said       *FilmSaid    `json:"said"`    // the slam of the stop, as a row says it; null where the valve does not close
	Vary       []FilmTrial  `json:"vary"`    // what-ifs that make sense here
	Thinned    string       `json:"thinned"` // how frames and traces stand for the steps between them
}

// Traces are readings in time. Least and most hold every step since the row before.
type Traces struct {
	Names  []string   `json:"names"`
	Units  []string   `json:"units"`
	TimeS  []float64  `json:"t"`
	Values [][]Number `json:"values"`
	Least  [][]Number `json:"least"`
	Most   [][]Number `json:"most"`
}

// Exact are readings at the steps of a run. A step is left out only where the straight line
// between its neighbors gives every reading of it to a ten-thousandth of what that reading spans.
type Exact struct {
	Names  []string `json:"names"`
	TimeS  string   `json:"t"`      // base64 of little-endian float64
	Values string   `json:"values"` // base64 of little-endian float32, reading by reading for each time
}

// Cutaway is what a drawing of the valve needs: what it shows, the valve's own numbers and
// where its element is in time.
type Cutaway struct {
	Type     string             `json:"type"`
	Title    string             `json:"title"` // of the type, for one that the page has no drawing of
	Figure   valve.Figure       `json:"figure"`
	BoreM    float64            `json:"bore_m"`
	Position string             `json:"position"`
	Stroke   float64            `json:"stroke"` // m, or rad where it turns
	Rotary   bool               `json:"rotary"`
	Parts    map[string]float64 `json:"parts"`   // the type's numbers by their keys, SI
	Opening  []Number           `json:"opening"` // share of the stroke, by time
}

// FilmMoment is one thing that happened.
type FilmMoment struct {
	TimeS float64 `json:"t"`
	Kind  string  `json:"kind" jsonschema:"enum=event,enum=flow reverses,enum=pump reverses,enum=valve opens,enum=valve moves,enum=valve is open,enum=valve sticks,enum=valve bounces,enum=valve closes,enum=valve chatters,enum=vapor forms" jsonschema_description:"What happened: moments of one kind differ in their numbers alone"`
	Text  string  `json:"text"`
}

// FilmSlam is one closing, marked on the time line.
type FilmSlam struct {
	TimeS     float64 `json:"t"`
	ReverseMS float64 `json:"m_s"`
	RiseM     float64 `json:"rise_m"` // of head with it; 0 for closings whose rise is not taken down
	Class     string  `json:"class" jsonschema:"enum=quiet,enum=audible,enum=harmful"`
	Worst     bool    `json:"worst"` // the hardest of the run
	Text      string  `json:"text"`
}

// FilmSaid is the slam in words: what a row of the answer says of the same stop.
type FilmSaid struct {
	Reverse string `json:"reverse_velocity"`
	Rise    string `json:"head_rise"`
	Decides string `json:"verdict_class"`
	Class   string `json:"class_words"`
	Chances string `json:"chances_text"` // empty where no chances were drawn
}

// FilmEvent is a stop or start that can be asked for.
type FilmEvent struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// FilmTrial is a number that may be tried. Its path goes into vary of a trip.
type FilmTrial struct {
	Path   string  `json:"path"`
	Label  string  `json:"label"`
	SI     float64 `json:"si"` // as it is
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Unit   string  `json:"unit"`   // in which the station's reader reads it
	PerSI  float64 `json:"per_si"` // so many units in one of SI
	Reason string  `json:"reason"` // for how far it is tried
}

// mostTraceRows is how many rows of readings a film has.
const mostTraceRows = 1000

func (d *Desk) film(s *study.TripStudy, events []plant.Event) Film {
	t := s.Told()
	f := t.Film
	out := Film{
		TimeS: f.TimeS, ChainageM: f.ChainageM, ElevationM: f.ElevationM, LimitM: numbers(f.LimitM),
		Heads: heads(f.HeadM), HeadMin: f.LeastM, HeadMax: f.MostM,
		Opening: numbers(f.Opening), Velocity: numbers(f.VelocityMS), PumpSpeed: numbers(f.PumpSpeed),
		Moments: []FilmMoment{}, Slams: d.slams(t, s.Station.Units), Events: []FilmEvent{},
		Thinned: "places and times between those shown are left out; the frame in which a place has its highest or lowest head shows that head, and each row of readings has its least and greatest since the row before",
	}
	for _, z := range f.ElevationM {
		out.VaporM = append(out.VaporM, z+t.VaporM)
	}
	if h := study.History(t, mostTraceRows); h != nil {
		out.Traces = Traces{h.Names, h.Units, h.TimeS, rows(h.Now), rows(h.Least), rows(h.Most)}
	}
	out.Exact = exact(t.Names, t.Rows)
	out.Cutaway = cutaway(s, out.Opening)
	for _, m := range t.Moments {
		out.Moments = append(out.Moments, FilmMoment{m.TimeS, m.Kind.String(), m.Text})
	}
	out.GroundM = []float64{}
	for _, x := range f.ChainageM {
		if z, known := s.Station.Main.GroundAt(x); known {
			out.GroundM = append(out.GroundM, s.Station.AboveDatum(z))
		}
	}
	out.Vary = []FilmTrial{}
	for _, v := range s.Trials() {
		u, kind := s.Station.Units, v.Value.Kind
		out.Vary = append(out.Vary, FilmTrial{
			v.Path, v.Value.Name, v.Value.SI, v.Low, v.High, u.Unit(kind),
			u.In(kind, 1) - u.In(kind, 0), v.Reason,
		})
	}
	out.Said = said(&s.Judged, s.Station.Units)
	for _, e := range events {
		out.Events = append(out.Events, FilmEvent{e.ID, e.Title})
	}
	return out
}

// said words the slam of the film.
func said(a *judge.Assessment, sys quantity.System) *FilmSaid {
	s := &a.Slam
	if !known(s.ReverseVelocity) {
		return nil
	}
	out := &FilmSaid{
		Reverse: sys.Format(quantity.Velocity, s.ReverseVelocity.SI), Decides: a.VerdictClass(),
		Class: a.SlamWords(),
	}
	if s.Lucky {
		out.Reverse += ", median " + sys.Format(quantity.Velocity, s.MedianMS)
	}
	if text := likely(s.ReverseVelocity, s.Runs, sys); text != "" {
		out.Reverse += ", likely " + text
	}
	if known(s.HeadRise) {
		out.Rise = sys.Format(quantity.Head, s.HeadRise.SI)
		if text := likely(s.HeadRise, s.Runs, sys); text != "" {
			out.Rise += ", likely " + text
		}
	}
	if s.Runs > 0 {
		out.Chances = s.ChancesWords()
	}
	return out
}

// slams are the closings of the run, in order: the first and the hardest with the head rise that
// the record has.
func (d *Desk) slams(t *plant.Stop, sys quantity.System) []FilmSlam {
	out := []FilmSlam{}
	c := t.Closing
	if !c.Closed {
		return out
	}
	add := func(x FilmSlam, what string) {
		x.Class = judge.SlamClass(d.rules, x.ReverseMS)
		x.Text = what + ", reverse velocity " + sys.Format(quantity.Velocity, x.ReverseMS)
		out = append(out, x)
	}
	add(FilmSlam{
		TimeS: c.First.TimeS, ReverseMS: c.First.ReverseMS, RiseM: c.FirstRiseM,
		Worst: c.Worst.TimeS <= c.First.TimeS,
	}, "the valve closes")
	for _, m := range t.Moments {
		if m.Kind == plant.ValveCloses && m.TimeS > c.First.TimeS && m.TimeS != c.Worst.TimeS {
			add(FilmSlam{TimeS: m.TimeS, ReverseMS: m.ReverseMS}, "it closes again")
		}
	}
	if c.Worst.TimeS > c.First.TimeS {
		add(FilmSlam{TimeS: c.Worst.TimeS, ReverseMS: c.Worst.ReverseMS, RiseM: c.RiseM, Worst: true},
			"it closes again, hardest")
	}
	slices.SortStableFunc(out, func(a, b FilmSlam) int { return cmp.Compare(a.TimeS, b.TimeS) })
	return out
}

func cutaway(s *study.TripStudy, opening []Number) Cutaway {
	out := Cutaway{
		Type: s.Item.Family.Type.Key, Title: s.Item.Family.Type.Title, Figure: s.Item.Family.Type.Figure(s.Item.Params),
		BoreM: s.Mech.BoreM, Position: s.Station.Valve.Position.String(), Stroke: s.Mech.Stroke,
		Rotary: s.Mech.Rotary,
		Parts:  map[string]float64{}, Opening: opening,
	}
	if full, err := s.Item.Family.Type.Complete(s.Item.Params); err == nil {
		for key, v := range full {
			if finite(v.SI) != nil {
				out.Parts[key] = v.SI
			}
		}
	}
	return out
}

func numbers(all []float64) []Number {
	out := make([]Number, len(all))
	for i, x := range all {
		out[i] = Number(x)
	}
	return out
}

func rows(all [][]float64) [][]Number {
	out := make([][]Number, len(all))
	for i, r := range all {
		out[i] = numbers(r)
	}
	return out
}

// heads packs the pictures.
func heads(frames [][]float32) string {
	var raw []byte
	for _, f := range frames {
		raw = packed(raw, f...)
	}
	return base64.StdEncoding.EncodeToString(raw)
}

func packed(raw []byte, all ...float32) []byte {
	for _, x := range all {
		raw = binary.LittleEndian.AppendUint32(raw, math.Float32bits(x))
	}
	return raw
}
