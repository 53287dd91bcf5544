package web

import (
	"os"
	"testing"
)

// samples has a good request for every route, by method and path.
func (f *fixture) samples() map[string]sample {
	one := "/api/studies/" + f.id
	return map[string]sample{
		"GET /api/examples": {"/api/examples", ""},
		"POST /api/sheet":   {"/api/sheet", asJSON(map[string]any{"text": text})},
		"POST /api/edit": {
			"/api/edit",
			asJSON(map[string]any{
				"text": text,
				"edits": []any{
					map[string]any{"path": "duty.head", "value": "62 ft"},
					map[string]any{"path": "place", "value": nil},
				},
			}),
		},
		"POST /api/rows": {"/api/rows", asJSON(map[string]any{"text": text, "units": "SI"})},
		"POST /api/answer": {
			"/api/answer",
			asJSON(map[string]any{"text": text, "valve": valve}),
		},
		"POST /api/trip": {
			"/api/trip",
			asJSON(map[string]any{"text": layout, "valve": valve, "quick": true}),
		},
		"POST /api/remedies": {
			"/api/remedies",
			asJSON(map[string]any{"text": layout, "valve": valve}),
		},
		"POST /api/explain": {
			"/api/explain",
			asJSON(map[string]any{"text": text, "path": "operating_points[0].flow"}),
		},
		"POST /api/configure": {
			"/api/configure",
			asJSON(map[string]any{"text": text, "valve": valve, "picks": []any{}}),
		},
		"POST /api/compare": {
			"/api/compare",
			asJSON(map[string]any{"text": text, "valves": []string{valve, "swing/6in"}}),
		},
		"POST /api/inquiry": {
			"/api/inquiry",
			asJSON(map[string]any{"text": "2 pumps, 350 gpm @ 62' TDH, 6 inch force main 1,200 ft"}),
		},
		"POST /api/curve": {"/api/curve", asJSON(map[string]any{"text": "gpm\tft\n0\t90\n450\t62\n"})},
		"POST /api/diagnose": {
			"/api/diagnose",
			asJSON(map[string]any{"text": text, "signs": []string{"bang-once"}, "found": map[string]string{"spin": "stands"}}),
		},
		"POST /api/leak": {
			"/api/leak",
			asJSON(map[string]any{
				"text": text, "diameter": "8 ft",
				"record": map[string]any{"name": "levels.csv", "data": levelRecord},
			}),
		},
		"POST /api/log": {
			"/api/log",
			asJSON(map[string]any{"text": layout, "file": map[string]any{"name": "stops.log.csv", "data": stopsLog(f.t)}}),
		},
		"POST /api/fit": {
			"/api/fit",
			asJSON(map[string]any{
				"text": layout, "valve": "swing/6in", "stops": []int{2}, "events": []string{"one-trips-high"},
				"file": map[string]any{"name": "stops.log.csv", "data": stopsLog(f.t)},
			}),
		},
		"GET /api/documents": {"/api/documents", ""},
		"POST /api/document": {
			"/api/document",
			asJSON(map[string]any{
				"text": text, "kind": "fieldcard", "valve": valve, "date": "2026-11-25",
				"profile": map[string]any{"company": "Demonstration Works"},
			}),
		},
		"GET /api/studies": {"/api/studies", ""},
		"POST /api/studies": {
			"/api/studies",
			asJSON(map[string]any{"name": "Two", "text": text, "note": "a note", "valve": valve}),
		},
		"GET /api/studies/{id}": {one, ""},
		"PUT /api/studies/{id}": {
			one,
			asJSON(map[string]any{"base": 2, "name": "One", "text": text}),
		},
		"DELETE /api/studies/{id}":                 {one, ""},
		"POST /api/studies/{id}/restore":           {one + "/restore", ""},
		"GET /api/studies/{id}/revisions":          {one + "/revisions", ""},
		"GET /api/studies/{id}/revisions/{number}": {one + "/revisions/1", ""},
		"POST /api/studies/{id}/compare":           {one + "/compare", asJSON(map[string]any{"a": 1, "b": 2})},
		"GET /api/studies/{id}/station.yaml":       {one + "/station.yaml", ""},
		"GET /api/openapi.json":                    {"/api/openapi.json", ""},
		"GET /healthz":                             {"/healthz", ""},
		"GET /metrics":                             {"/metrics", ""},
	}
}

// levelRecord is a record of levels: shut, open and shut, and a pump that runs.
var levelRecord = []byte(`time (min),level (in),pump,valve
0,30.0,off,shut
1,30.2,off,shut
2,30.4,off,shut
3,30.6,off,open
4,30.9,off,open
5,31.2,off,open
6,31.4,off,shut
7,31.6,off,shut
8,31.8,off,shut
9,25.0,on,open
10,18.0,on,open
11,11.0,on,open
`)

// stopsLog is the example of logged stops.
func stopsLog(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("../../examples/stops.log.csv")
	if err != nil {
		t.Fatal(err)
	}
	return data
}
