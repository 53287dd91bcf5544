package house

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// turn is a way to say things that is refused: patterns of plain, lower-case text, and the
// better form.
type turn struct {
	patterns []*regexp.Regexp
	better   string
}

// say makes a turn of phrases in which _ stands for a space, so that this file does not
// hold the phrases that it refuses. A phrase begins with a letter, for speed.
func say(better string, phrases ...string) turn {
	t := turn{better: better}
	for _, p := range phrases {
		t.patterns = append(t.patterns, regexp.MustCompile(strings.ReplaceAll(p, "_", " ")+`\b`))
	}
	return t
}

// plainTerms are phrases that an application engineer would not use, each with the term
// of the trade.
var plainTerms = []turn{
	say("reverse velocity", `runs?_back_at`),
	say("deceleration (at flow reversal)", `slows_at`),
	say("closes at (time)", `shuts_after`, `seats_after`),
	say("flow reverses", `water_turns?_back`),
	say("column separation", `columns?_parts?`, `parted_columns?`),
	say("head rise", `rise_of_(the_)?head`),
	say("max. head, min. head", `most_heads?`, `least_heads?`),
	say("full-open velocity; is fully open", `opens?_(it_)?in_full`),
	say("cracking head", `cracks_(it_)?open`),
	say("minimum back head to seal", `seals_from`, `least_back_head`),
	say("disc or ball position", `stands_(parked|floating|full_open)`),
	say("normal stop", `stopped_as_usual`),
	say("power failure", `loses?_power`),
	say("one of two pumps trips, the other keeps running", `the_rest_runs?`),
	say("one pump running", `one_pump,_alone`),
	say("annual maintenance", `care_in_a_year`),
	say("per year", `in_a_year`),
	say("present-worth factor", `worth_today`),
	say("conditions and objections", `stands_against`),
	say("ranked first; comes first", `stands?_first`),
	say("ranked below X, which has the better verdict", `which_has_better_verdict`),
	say("held steady at normal flow", `flow_holds_still`),
	say("clear passage (sphere)", `passes_a_sphere`),
	say("straight pipe required upstream", `pipe_(are_)?asked_for`, `diameters_(are_)?asked_for`),
	say("position indicator", `shows_its_position_by`),
	say("largest source of uncertainty", `narrows?_it_most`, `moves?_the_answer_most`),
	say("given, not given; reported, listed", `is_told`, `are_told`, `was_told`, `were_told`, `be_told`, `been_told`,
		`not_told`, `nobody_told`, `nothing_told`),
	say("the valve weighs", `valve_has_[0-9]+_(lb|kg)`),
	say("inclined seat", `leaning_seat`),
	say("short stroke", `short_way`),
	say("has an error; in error", `at_fault`),
	say("remedies", `would_cure`),
	say("gap to fill, length to cut", `gap_or_cut`),
	say("specify instead", `ask_for_instead`),
	say("unbroken all round", `closed_all_round`),
}

// plainSentences are turns of whole sentences, with what to say in their place.
var plainSentences = []turn{
	say("the thing that is missing, by its name", `datum_that_is_named`),
	say("ranked first: it matches the pipe size; the other does not", `by_the_pipe's_own`),
	say("column separation is predicted; the run includes it", `falls_to_vapor_pressure;_vapor`),
	say("1.5 × pressure rating (catalog)", `times_the_rating,_by`),
	say("test duration and allowable leakage per that standard", `leakage_by_it`),
	say("summary (not quoted)", `in_own_words`),
	say("provide position indication", `to_be_seen_from_outside`),
	say("drop-tight at back heads of ... and above", `seal_against_a_back_head`),
	say("checks without entry", `looks_that_need`),
	say("isolate, lock, vent and drain both sides; prove zero pressure", `sides_shut,_vented`),
	say("not given; assumed by the program", `filled_in_by_the_program`),
	say("split the last run in two", `part_the_last`),
	say("eight inputs are assumed", `rests_on_[0-9]+_assumed`),
	say("jet contraction in the gap (a measured closing curve would settle it)", `contraction_of_the_jet`),
	say("back-calculated from that rule", `rule_of_[a-z0-9 ]+_turned_round`),
	say("depends on", `hangs?_on`),
	say("is taken as, is", `counts?_as`, `counted_as`),
	say("a person; by hand", `a_hand`),
}

// plainKinds are the endings of the files that hold text for people. Released schemas
// stay as they were released.
var plainKinds = []string{".go", ".js", ".mjs", ".md", ".yaml", ".html", ".txt", ".txtar", ".golden"}

// plainText is text in lower case with one space where words part, be it at the end of a
// line of a comment, and the line of each of its bytes.
func plainText(text []byte) (plain []byte, lines []int) {
	line, apart := 1, true
	for i, c := range text {
		switch {
		case c == ' ', c == '\t', c == '\n', c == '\r', c == '#', c == '*', c == '/' && i > 0 &&
			(text[i-1] == '/' || i+1 < len(text) && text[i+1] == '/'):
			if !apart {
				plain, lines = append(plain, ' '), append(lines, line)
			}
			apart = true
		default:
			if 'A' <= c && c <= 'Z' {
				c += 'a' - 'A'
			}
			plain, lines, apart = append(plain, c), append(lines, line), false
		}
		if c == '\n' {
			line++
		}
	}
	return plain, lines
}

// refuse calls found with the place of every turn in plain text.
func refuse(plain []byte, turns []turn, found func(w turn, from, to int)) {
	for _, w := range turns {
		for _, p := range w.patterns {
			for _, at := range p.FindAllIndex(plain, -1) {
				if at[0] == 0 || !isLetter(plain[at[0]-1]) {
					found(w, at[0], at[1])
				}
			}
		}
	}
}

func isLetter(c byte) bool {
	return 'a' <= c && c <= 'z' || '0' <= c && c <= '9' || c == '_' || c == '-' || c >= 0x80
}

// TestPlainEnglish reads everything that is written for people, comments included.
func TestPlainEnglish(t *testing.T) {
	turns := slices.Concat(plainTerms, plainSentences)
	walk(t, func(name string) {
		if !slices.Contains(plainKinds, path.Ext(name)) || strings.Contains(name, "testdata/schemas/") {
			return
		}
		text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		if err != nil {
			t.Fatal(err)
		}
		plain, lines := plainText(text)
		refuse(plain, turns, func(w turn, from, to int) {
			t.Errorf("%s:%d: %q: write: %s", name, lines[from], plain[from:to], w.better)
		})
	})
}

// TestPlainEnglishCatches shows that the phrases are found, over the end of a line too,
// and that their better forms and a number of innocent sentences are not.
func TestPlainEnglishCatches(t *testing.T) {
	bad := []string{
		"Runs_back_at 2 ft/s", "the valve_slows_at 7", "it seats_after 2 s", "it shuts_after 2 s",
		"the water_turns_back", "the column_parts",
		"parted_columns", "rise_of_head", "most_head", "least_heads", "opens_in_full", "opens_it_in_full",
		"cracks_open", "seals_from 5 ft", "least_back_head",
		"stands_parked", "is stopped_as_usual", "both pumps lose_power", "the_rest_run", "one_pump,_alone",
		"care_in_a_year", "it costs_in_a_year",
		"worth_today", "what stands_against each", "stands_first", "which_has_better_verdict",
		"normal flow_holds_still",
		"passes_a_sphere of 3 in", "straight pipe_asked_for", "2 diameters_are_asked_for",
		"shows_its_position_by: none", "would narrow_it_most",
		"would move_the_answer_most", "nobody_told", "nothing_told", "not_told", "it is_told", "faults are_told",
		"was_told", "were_told", "be_told", "been_told",
		"the valve_has_146_lb", "a leaning_seat", "short_way", "a file at_fault", "what would_cure it",
		"gap_or_cut", "what to ask_for_instead", "print closed_all_round", "the datum_that_is_named here",
		"1.50 times_the_rating,_by the catalog",
		"allowed leakage_by_it", "says, in_own_words", "position to_be_seen_from_outside",
		"it shall seal_against_a_back_head of 5 ft",
		"Looks_that_need no entry", "both sides_shut,_vented", "Filled_in_by_the_program", "Part_the_last run",
		"rests_on_8_assumed facts",
		"contraction_of_the_jet", "thickness rule_of_AWWA C150_turned_round", "it hangs_on that", "counts_as a check",
		"counted_as", "a_hand",
		"before ball-pocket/14in, by_the_pipe's_own size", "head falls_to_vapor_pressure;_vapor cavities",
	}
	turns := slices.Concat(plainTerms, plainSentences)
	hit := map[*regexp.Regexp]bool{}
	for _, text := range bad {
		for _, between := range []string{" ", "\n// ", "\n\t# ", "\n * "} {
			plain, _ := plainText([]byte(strings.ReplaceAll(text, "_", between)))
			found := false
			refuse(plain, turns, func(w turn, _, _ int) {
				found = true
				for _, p := range w.patterns {
					hit[p] = hit[p] || p.Match(plain)
				}
			})
			if !found {
				t.Errorf("%q with %q between its words is not found", text, between)
			}
		}
	}
	innocent := []string{
		"the default of a pump", "a handwheel", "that fault", "one counts assets",
		"she tells the operator", "in a yearly plan", "the slope and heads of it",
	}
	for _, w := range turns {
		for _, p := range w.patterns {
			if !hit[p] {
				t.Errorf("no example for %s", p)
			}
		}
		innocent = append(innocent, w.better)
	}
	for _, text := range innocent {
		plain, _ := plainText([]byte(text))
		refuse(plain, turns, func(_ turn, from, to int) { t.Errorf("%q is innocent, and %q in it is refused", text, plain[from:to]) })
	}
	if plain, lines := plainText([]byte("one\n// two  three\n")); string(plain) != "one two three " || lines[4] != 2 ||
		lines[8] != 2 {
		t.Errorf("plain text %q on the lines %v", plain, lines)
	}
}
