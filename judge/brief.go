package judge

import "strings"

// briefs say in a few words what conditions and objections come to, by the findings' IDs,
// for verdict lines and lists of what else stands against a valve.
var briefs = map[string]string{
	"slam-audible":                 "slam will be heard",
	"slam-may-harm":                "slam may do harm",
	"slam-harmful":                 "harmful slam",
	"slam-not-run":                 "slam was not run",
	"velocity-unknown":             "no normal flow",
	"velocity-too-high":            "the velocity is high",
	belowFullOpen:                  "not fully open at normal flow",
	"velocity-least-too-low":       "far from full open at least flow",
	"loss-large":                   "large head loss",
	"back-head-unknown":            "the back head that seals it is not in the catalog",
	"back-head-too-small":          "too little back head to seal",
	"size-differs":                 "not the pipe's size",
	"straight-too-short":           "too little straight pipe upstream",
	"clearance-too-small":          "too little clearance above it",
	"in-wet-well":                  "it would be in the wet well",
	"laying-length-too-long":       "too long for the gap",
	"laying-length-gap":            "shorter than the gap",
	"lifting-plan":                 "parts too heavy for one person",
	"rating-unknown":               "no pressure rating in the catalog",
	"rating-below-called":          "rating below the one specified",
	"rating-too-low":               "rating below pump shut-off",
	"surge-valve-rating":           "surge above the valve's rating",
	"surge-branch-rating":          "surge above the branch's rating",
	"surge-main-rating":            "surge above the main's rating",
	"solids-unknown":               "clear passage not in the catalog",
	"solids-do-not-pass":           "solids do not pass",
	"rags-too-much":                "too many rags",
	"grit-too-much":                "more grit than the maker accepts",
	"elastomer-wears":              "grit will wear the rubber",
	"elastomer-unsuitable":         "no suitable elastomer",
	"drinking-water-on-request":    "drinking-water certificate on request only",
	"drinking-water-unknown":       "no drinking-water certificate in the catalog",
	"drinking-water-not-certified": "not certified for drinking water",
	"sulfide":                      "high hydrogen sulfide",
	"service-not-offered":          "not offered for this liquid",
	"position-not-allowed":         "not allowed in this position",
	"does-not-close":               "does not close in this position",
	"mechanics-unusable":           "the catalog's numbers do not make a valve",
}

// Brief says in a few words what the finding comes to: "slam will be heard".
func (f *Finding) Brief() string {
	if text, ok := briefs[f.ID]; ok {
		return text
	}
	if strings.HasPrefix(f.ID, "rule-") {
		title, _, _ := strings.Cut(f.Text, ". ")
		return strings.ToLower(title[:min(1, len(title))]) + title[min(1, len(title)):]
	}
	text, _, _ := strings.Cut(strings.TrimSuffix(f.Text, "."), ". ")
	return text
}

// Decides is the finding that decides the verdict: the first that rejects, leaves it open,
// or is a condition; nil for a valve that is suitable.
func (a *Assessment) Decides() *Finding {
	if len(a.Findings) > 0 && a.Findings[0].Severity >= Condition {
		return &a.Findings[0]
	}
	return nil
}
