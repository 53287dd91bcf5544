package desk

import (
	"fmt"

	"seatward/judge"
	"seatward/study"
)

// Verdict is the answer in a sentence.
type Verdict struct {
	Word      string `json:"word"`
	Sentence  string `json:"sentence"`
	Condition string `json:"condition"` // the first condition or what cannot be said, as it was found; empty where there is none
	Deciding  string `json:"deciding"`  // what is said of its slam, with the fact that decides; empty while it is still to be run
}

// verdict is what is said of the shown valve first.
func verdict(s *study.Study, a *judge.Assessment) Verdict {
	out := Verdict{Word: a.Verdict.String(), Deciding: deciding(a)}
	name := title(a) + ", " + a.Item.Size.Format(s.Station.Units)
	best := a == &s.Assessments[0]
	if a.Verdict == judge.Unsuitable {
		out.Sentence = fmt.Sprintf("%s cannot be used here: %s", name, judge.WhyNot(*a))
		if best && s.Pending == 0 {
			out.Word = "no valve"
			out.Sentence = fmt.Sprintf("No valve of the catalog can be used here. %s comes nearest, but: %s", name,
				judge.WhyNot(*a))
		}
		return out
	}
	said := a.Verdict.String()
	if f := a.Decides(); f != nil {
		out.Condition = f.Text
		said += ", " + f.Kind.Head
	}
	switch {
	case a.Pending():
		out.Sentence = fmt.Sprintf("%s: %s so far. Its pump stops are still to be run.", name, said)
	case s.Pending > 0:
		out.Sentence = fmt.Sprintf("%s: %s. %s still to be run before valves are ranked.", name, said,
			valves(s.Pending))
	case best && a.Verdict == judge.CannotSay:
		out.Sentence = fmt.Sprintf("No valve can be named for certain. %s comes nearest: %s.", name, said)
	case best:
		out.Sentence = fmt.Sprintf("%s ranks first: %s.", name, said)
	default:
		out.Sentence = fmt.Sprintf("%s ranks %d of %d: %s.", name, a.Rank, ranked(s), said)
	}
	return out
}

func valves(n int) string {
	if n == 1 {
		return "One other valve is"
	}
	return fmt.Sprintf("%d other valves are", n)
}

// deciding is what the slam finding says.
func deciding(a *judge.Assessment) string {
	if f := a.SlamFinding(); f != nil {
		return f.Text
	}
	return ""
}

func ranked(s *study.Study) int {
	n := 0
	for i := range s.Assessments {
		if s.Assessments[i].Rank > 0 {
			n++
		}
	}
	return n
}

// title is the family with its variant.
func title(a *judge.Assessment) string {
	if a.Item.VariantTitle == "" {
		return a.Item.Family.Title
	}
	return a.Item.Family.Title + ", " + a.Item.VariantTitle
}
