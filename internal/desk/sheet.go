package desk

import (
	"context"
	"strings"

	"seatward/basis"
	"seatward/station"
)

// SheetRequest asks what stands in a station file.
type SheetRequest struct {
	Text string `json:"text"`
}

// SheetReply is the station with every number that its file may hold.
type SheetReply struct {
	Station      StationHead `json:"station"`
	Fields       []Field     `json:"fields"`
	Drawing      Drawing     `json:"drawing"`
	Warnings     []string    `json:"warnings"`
	AssumedCount int         `json:"assumed_count"`
}

// StationHead names the station.
type StationHead struct {
	Name     string `json:"name"`
	Place    string `json:"place"`
	Units    string `json:"units"`
	Depth    string `json:"depth"`
	Hash     string `json:"hash"`
	Fluid    string `json:"fluid"`
	Position string `json:"position"`
	Size     string `json:"size"`
}

// Field is one key of a station file. Numbers are SI; texts are in the station's units.
type Field struct {
	Path    string   `json:"path"`
	Label   string   `json:"label"`
	Value   string   `json:"value"` // as written; empty where it is not
	Text    string   `json:"text"`  // what the station holds
	Kind    string   `json:"kind"`
	Unit    string   `json:"unit"`
	SI      *float64 `json:"si"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Origin  string   `json:"origin" jsonschema:"enum=given,enum=assumed,enum=catalog,enum=computed,enum=simulated,enum=unknown"`
	Reason  string   `json:"reason"`
	Choices []string `json:"choices,omitempty"`
	At      string   `json:"at"`
	Explain string   `json:"explain"`
}

// Sheet reads a station file. The error is *Error where the file has an error.
func (d *Desk) Sheet(_ context.Context, in SheetRequest) (*SheetReply, error) {
	st, err := load(in.Text, "")
	if err != nil {
		return nil, err
	}
	return sheet(st, in.Text)
}

func sheet(st *station.Station, text string) (*SheetReply, error) {
	fields, list := station.Fields(st, []byte(text))
	if list.Err() != nil {
		return nil, fileError(list)
	}
	out := &SheetReply{Station: head(st), Fields: []Field{}, Drawing: drawing(st, fields), Warnings: []string{}}
	for i := range fields {
		out.Fields = append(out.Fields, field(st, &fields[i]))
	}
	for _, w := range st.Warnings {
		out.Warnings = append(out.Warnings, warning(w.Path, w.Text, w.Mend))
	}
	station.Walk(st, func(_ string, v basis.Value) {
		if v.Origin == basis.Assumed {
			out.AssumedCount++
		}
	})
	return out, nil
}

// warning is a warning in a line, without the place in the file: the page shows fields.
func warning(path, text, mend string) string {
	if path != "" {
		text = path + ": " + text
	}
	if mend != "" {
		text += ". To mend: " + mend
	}
	return text
}

func head(st *station.Station) StationHead {
	return StationHead{
		Name: st.Name, Place: st.Place, Units: st.Units.String(), Depth: st.Depth.String(), Hash: st.Hash,
		Fluid:    string(st.Fluid.Kind),
		Position: st.Valve.Position.String(), Size: st.Valve.Size.Format(st.Units),
	}
}

func field(st *station.Station, f *station.Field) Field {
	out := Field{
		Path: f.Path, Label: f.Label, Value: f.Written, Text: f.Text, Kind: f.Shape, Origin: f.Origin, Reason: f.Reason,
		Choices: f.Choices, At: place(f.Path), Explain: f.Explain,
	}
	if f.Shape == station.ShapeQuantity {
		out.Kind, out.Unit = f.Kind.String(), f.Unit
	}
	if f.Value.Known() {
		out.SI, out.Low, out.High = finite(f.Value.SI), finite(f.Value.Low), finite(f.Value.High)
	}
	return out
}

// places are where the keys of a file stand on the drawing; the longest prefix counts.
var places = map[string]string{
	"": "operation", "fluid": "service", "site": "service", "duty": "pump", "duty.static_head": "outlet",
	"duty.pumps_in_service": "header", "valve": "valve", "pumps": "pump",
	"levels.wet_well_high": "wet_well.high", "levels.wet_well_low": "wet_well.low",
	"levels.suction_pressure": "wet_well.low", "levels.outlet": "outlet", "levels.outlet_pressure": "outlet",
	"levels.valve": "valve", "branch": "branch", "main": "main", "surge": "operation", "surge.air_vessel": "header",
	"surge.common_header": "header", "surge.devices": "main",
}

func place(path string) string {
	for {
		if at, ok := places[path]; ok {
			return at
		}
		path = path[:max(0, strings.LastIndexAny(path, ".["))]
	}
}

// Drawing is the station to proportion. Elevations are those of the file where it gives
// levels, else above the wet well's high level.
type Drawing struct {
	WetWell       DrawnWell     `json:"wet_well"`
	Valve         DrawnValve    `json:"valve"`
	OutletM       float64       `json:"outlet_m"`
	OutletAssumed bool          `json:"outlet_assumed"`
	Pumps         []DrawnPump   `json:"pumps"`
	Branch        DrawnBranch   `json:"branch"`
	Header        bool          `json:"header"`
	Main          []DrawnPoint  `json:"main"`
	ProfileGiven  bool          `json:"profile_given"`
	Ground        []DrawnPoint  `json:"ground"` // over the main; empty where not given
	MainDiameterM float64       `json:"main_diameter_m"`
	MainAssumed   bool          `json:"main_assumed"`
	Devices       []DrawnDevice `json:"devices"`           // that limit surge
	Thinned       string        `json:"thinned,omitempty"` // how, where not every point of the profile is in main
}

// DrawnWell is the wet well.
type DrawnWell struct {
	HighM   float64 `json:"high_m"`
	LowM    float64 `json:"low_m"`
	Assumed bool    `json:"assumed"`
}

// DrawnValve is the check valve.
type DrawnValve struct {
	ElevationM float64 `json:"elevation_m"`
	Position   string  `json:"position"`
	Assumed    bool    `json:"assumed"`
}

// DrawnPump is one entry of pumps.
type DrawnPump struct {
	Name        string `json:"name"`
	Count       int    `json:"count"`
	Standby     int    `json:"standby"`
	Submersible bool   `json:"submersible"`
	Assumed     bool   `json:"assumed"`
}

// DrawnBranch is the pipe of one pump.
type DrawnBranch struct {
	LengthM   float64 `json:"length_m"`
	DiameterM float64 `json:"diameter_m"`
	Assumed   bool    `json:"assumed"`
}

// DrawnDevice is a surge device on the main; at no distance it stands at the header.
type DrawnDevice struct {
	Kind       string  `json:"kind"`
	Name       string  `json:"name"`
	ChainageM  float64 `json:"x_m"`
	ElevationM float64 `json:"elevation_m"`
	Assumed    bool    `json:"assumed"` // its size is not given
}

// DrawnPoint is a place of the main.
type DrawnPoint struct {
	ChainageM  float64 `json:"x_m"`
	ElevationM float64 `json:"elevation_m"`
}

func drawing(st *station.Station, fields []station.Field) Drawing {
	written := map[string]bool{}
	for i := range fields {
		written[fields[i].Path] = fields[i].Written != ""
	}
	high := 0.0
	if st.WetWellHigh.Known() {
		high = st.WetWellHigh.SI
	}
	static := written["duty.static_head"]
	out := Drawing{
		WetWell: DrawnWell{high, high - (st.StaticHigh.SI - st.StaticLow.SI), !written["levels.wet_well_high"] &&
			!static},
		Valve:         DrawnValve{st.ValveElevation.SI, st.Valve.Position.String(), !written["levels.valve"]},
		OutletM:       high + st.StaticLow.SI,
		OutletAssumed: !written["levels.outlet"] && !static, Pumps: []DrawnPump{}, Header: st.Surge.CommonHeader,
		Devices:      drawnDevices(st),
		ProfileGiven: len(st.Main.Profile) > 0,
	}
	for _, p := range st.Pumps {
		out.Pumps = append(out.Pumps, DrawnPump{p.Name, p.Count, p.Standby, p.Submersible, !p.CurveGiven})
	}
	for _, r := range st.Branch.Runs {
		out.Branch.LengthM += r.Length.SI
		out.Branch.DiameterM = r.InnerDiameter.SI
		out.Branch.Assumed = out.Branch.Assumed || r.Length.Origin == basis.Assumed
	}
	length := 0.0
	for _, r := range st.Main.Runs {
		length += r.Length.SI
		out.MainDiameterM = r.InnerDiameter.SI
		out.MainAssumed = out.MainAssumed || r.Length.Origin == basis.Assumed
	}
	out.Main, out.Ground = drawn(st.Main.Profile), drawn(st.Main.Ground)
	if len(out.Main) == 0 {
		out.Main = []DrawnPoint{{0, out.Valve.ElevationM}, {length, out.OutletM}}
	}
	if max(len(st.Main.Profile), len(st.Main.Ground)) > mostDrawn {
		out.Thinned = "of each stretch the lowest and the highest point"
	}
	return out
}

// drawnDevices are the surge devices of the station.
func drawnDevices(st *station.Station) []DrawnDevice {
	out := []DrawnDevice{}
	for _, d := range st.Surge.Devices {
		out = append(out, DrawnDevice{
			d.Kind, d.Name, d.At.SI, st.AxisAt(d.At.SI) + st.ValveElevation.SI - st.ValveAboveDatum(),
			d.AirVolume.Origin == basis.Assumed,
		})
	}
	return out
}

// drawn are the points of a profile, at most mostDrawn.
func drawn(all []station.ProfilePoint) []DrawnPoint {
	out := []DrawnPoint{}
	for _, p := range all {
		out = append(out, DrawnPoint{p.ChainageM, p.ElevationM})
	}
	if len(out) > mostDrawn {
		return thinned(out, mostDrawn)
	}
	return out
}

// mostDrawn is how many points of a profile are drawn.
const mostDrawn = 400

// thinned keeps the ends, and of each stretch the lowest and the highest point, so that no
// high point is lost.
func thinned(all []DrawnPoint, most int) []DrawnPoint {
	inner := all[1 : len(all)-1]
	out := []DrawnPoint{all[0]}
	stretches := (most - 2) / 2
	for i := range stretches {
		part := inner[i*len(inner)/stretches : (i+1)*len(inner)/stretches]
		low, high := 0, 0
		for k := range part {
			if part[k].ElevationM < part[low].ElevationM {
				low = k
			}
			if part[k].ElevationM > part[high].ElevationM {
				high = k
			}
		}
		out = append(out, part[min(low, high)])
		if low != high {
			out = append(out, part[max(low, high)])
		}
	}
	return append(out, all[len(all)-1])
}
