package study

import (
	"fmt"
	"slices"
	"strings"

	"seatward/judge"
	"seatward/quantity"
)

// Move is one thing about a valve in which two answers for a station differ.
type Move struct{ Valve, About, Before, After string }

// Compare tells what differs between two answers for one station: valves that come or go,
// verdicts, ranks, the slam class and the head loss, and findings that are new or gone.
func Compare(before, after *Study) []Move {
	var out []Move
	find := func(s *Study, id string) *judge.Assessment {
		i := slices.IndexFunc(s.Assessments, func(a judge.Assessment) bool { return a.Item.ID == id })
		if i < 0 {
			return nil
		}
		return &s.Assessments[i]
	}
	for i := range before.Assessments {
		old := &before.Assessments[i]
		now := find(after, old.Item.ID)
		if now == nil {
			out = append(out, Move{old.Item.ID, "valve", old.Verdict.String(), "not in the catalog"})
			continue
		}
		out = append(out, moves(old, now, after.Station.Units)...)
	}
	for i := range after.Assessments {
		if now := &after.Assessments[i]; find(before, now.Item.ID) == nil {
			out = append(out, Move{now.Item.ID, "valve", "not in the catalog", now.Verdict.String()})
		}
	}
	return out
}

func moves(old, now *judge.Assessment, sys quantity.System) []Move {
	var out []Move
	tell := func(about, a, b string) {
		if a != b {
			out = append(out, Move{now.Item.ID, about, a, b})
		}
	}
	rank := func(a *judge.Assessment) string {
		if a.Rank == 0 {
			return "none"
		}
		return fmt.Sprint(a.Rank)
	}
	class := func(a *judge.Assessment) string {
		if a.Slam.Class == "" {
			return "not run"
		}
		return a.Slam.Class
	}
	tell("verdict", old.Verdict.String(), now.Verdict.String())
	tell("rank", rank(old), rank(now))
	tell("slam", class(old), class(now))
	tell("reverse velocity", old.Slam.ReverseVelocity.Format(sys), now.Slam.ReverseVelocity.Format(sys))
	tell("head loss", old.Governing.Loss.Format(sys), now.Governing.Loss.Format(sys))
	tell("findings", findings(old, now), findings(now, old))
	return out
}

// findings names those of a, milder ones aside, that b does not have.
func findings(a, b *judge.Assessment) string {
	var out []string
	for _, f := range a.Findings {
		if f.Severity >= judge.Condition &&
			!slices.ContainsFunc(b.Findings,
				func(x judge.Finding) bool { return x.Kind.Is(f.Kind) && x.Severity == f.Severity }) {
			out = append(out, f.Kind.Head)
		}
	}
	if len(out) == 0 {
		return "none more"
	}
	return strings.Join(out, ", ")
}
