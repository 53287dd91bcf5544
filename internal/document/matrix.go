package document

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"seatward/internal/clause"
	"seatward/standards"
)

// compliance is the matrix with what it answers, and the deviations apart.
func (w *sheet) compliance() {
	w.heading(1, "Compliance matrix")
	if w.Clause != nil {
		w.text(Plain, "Answers {files}, paragraph by paragraph. Open means that a person has to answer: it never means that the point complies.",
			"files", strings.Join(baseNames(w.Clause.Names), ", "))
	} else {
		w.text(Warning, "No specification was given. This matrix answers Seatward's own guide section, which is no evidence that the valve complies with the engineer's specification. Give the specification, and it is answered paragraph by paragraph.")
	}
	matrix, deviations, counts := w.matrix()
	var told []string
	for _, x := range []Status{Complies, Deviates, ToSee, NotApplicable} {
		told = append(told, w.statusWord(x)+" "+fmt.Sprint(counts[x]))
	}
	w.text(Plain, "Paragraphs answered: {list}.", "list", strings.Join(told, ", "))
	w.put(matrix)
	w.heading(1, "Deviations")
	if len(deviations.Rows) == 0 {
		w.text(Good, "None of the paragraphs that the program could answer deviates. The open ones are for whoever submits.")
	} else {
		w.put(deviations)
	}
}

// statusWord is the word of the matrix. Nothing complies with a text of the program itself.
func (w *sheet) statusWord(s Status) string {
	if s == Complies && w.Clause == nil {
		return w.say("meets guide")
	}
	return w.say(s.String())
}

// matrix answers every paragraph, lists the deviations apart and counts.
func (w *sheet) matrix() (matrix, deviations Table, counts [4]int) {
	matrix = Table{
		ID: "matrix", Caption: w.say("Compliance"),
		Columns: []Column{
			w.column("Paragraph", 0.1), w.column("Requirement", 0.34), w.column("Status", 0.12),
			w.column("Offered, or what is open", 0.44),
		},
	}
	deviations = Table{
		ID: "deviations", Caption: w.say("Deviations"),
		Columns: []Column{
			w.column("Paragraph", 0.11), w.column("Requirement", 0.36), w.column("Deviation", 0.33),
			w.column("Accepted by, date", 0.2),
		},
	}
	add := func(ref, text string, a answer) {
		counts[a.status]++
		status := Cell{Text: w.statusWord(a.status), Tone: a.status.tone(), Bold: true}
		matrix.Rows = append(matrix.Rows, Row{Cells: []Cell{{Text: ref}, {Text: text}, status, {Text: a.text}}})
		if a.status == Deviates {
			deviations.Rows = append(deviations.Rows,
				Row{Cells: []Cell{{Text: ref}, {Text: text}, {Text: a.deviation()}, {Blank: true}}})
		}
	}
	group := func(text string) {
		matrix.Rows = append(matrix.Rows, Row{Group: true, Cells: []Cell{{Text: text, Bold: true}}})
	}
	if w.Clause != nil {
		for _, p := range w.Clause.Paragraphs {
			if p.Heading {
				group(joined("  ", headingNumber(p), p.Text))
				continue
			}
			add(p.Number, p.Text, w.paragraphAnswer(p))
		}
		return matrix, deviations, counts
	}
	c := w.section()
	for i, r := range c.list {
		switch {
		case r.level < 2:
			group(joined("  ", r.number, r.text))
		case r.answer == nil:
			add(c.reference(i), r.text, answer{status: NotApplicable, text: w.say("asks for nothing by itself")})
		default:
			add(c.reference(i), r.text, r.answer())
		}
	}
	return matrix, deviations, counts
}

// headingNumber is the number of a heading; those counted here are left out.
func headingNumber(p clause.Paragraph) string {
	if strings.HasPrefix(p.Number, "¶") {
		return ""
	}
	return p.Number
}

// paragraphAnswer answers a paragraph of somebody's specification by all that it asks. It
// complies only where everything in it was read and complies.
func (w *sheet) paragraphAnswer(p clause.Paragraph) answer {
	mentions := standards.Mentions(p.Text, w.all, w.Assessment.Item, w.place())
	var read [][2]int
	for _, m := range mentions {
		read = append(read, [2]int{m.From, m.To})
	}
	reading := clause.Find(p.Text, p.Under, read)
	var parts []answer
	for i := range mentions {
		if isAdvice, forbids := clause.Mood(p.Text, mentions[i].From); !isAdvice {
			parts = append(parts, w.standardAnswer(&mentions[i], forbids))
		}
	}
	for i := range reading.Demands {
		parts = append(parts, w.demandAnswer(&reading.Demands[i]))
	}
	switch {
	case len(parts) == 0 && reading.Advice:
		return answer{status: NotApplicable, text: w.say("advice or a note: it asks for nothing")}
	case len(parts) == 0:
		return answer{status: ToSee, text: w.say("not read by the program: for whoever submits")}
	}
	out := w.together(parts)
	if reading.Rest != "" {
		if out.status != Deviates {
			out.status = ToSee
		}
		rest := w.say("The rest of the paragraph is for whoever submits.")
		if reading.Rest != p.Text {
			rest = w.say("For whoever submits: “{rest}”", "rest", reading.Rest)
		}
		out.text = joined(" ", out.text, rest)
	}
	return out
}

// together is the answer of several: that of the worst, with the words of all.
func (w *sheet) together(parts []answer) answer {
	rank := [4]int{Complies: 1, Deviates: 3, NotApplicable: 0, ToSee: 2}
	out := parts[0]
	for _, a := range parts[1:] {
		if rank[a.status] > rank[out.status] {
			out.status = a.status
		}
	}
	mixed := slices.ContainsFunc(parts, func(a answer) bool { return a.status != parts[0].status })
	var texts, bad []string
	for _, status := range []Status{Deviates, ToSee, Complies, NotApplicable} {
		for _, a := range parts {
			if a.status != status {
				continue
			}
			text := strings.TrimSuffix(a.text, ".")
			if status == Deviates {
				bad = append(bad, sentence(text))
			}
			if mixed {
				text += " (" + w.say(status.String()) + ")"
			}
			texts = append(texts, sentence(text))
		}
	}
	out.text, out.bad = joined(" ", texts...), joined(" ", bad...)
	return out
}

// baseNames are the names of files without their folders: a paper names no place of a disk.
func baseNames(names []string) []string {
	var out []string
	for _, n := range names {
		out = append(out, filepath.Base(n))
	}
	return out
}
