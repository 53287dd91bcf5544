package desk

import (
	"context"
	"errors"

	"seatward/diagnosis"
	"seatward/internal/site"
	"seatward/judge"
	"seatward/study"
)

// DiagnoseRequest brings what was noticed and found; a station without text is none.
type DiagnoseRequest struct {
	Text  string            `json:"text,omitempty"`
	Units string            `json:"units,omitempty"` // US or SI; those of the file without it
	Valve string            `json:"valve,omitempty"` // that is there now; by the file's words without it
	Signs []string          `json:"signs"`           // by ID
	Found map[string]string `json:"found"`           // reading of a test, by the test's ID
}

// DiagnoseReply is the causes in order and the tests that are left.
type DiagnoseReply struct {
	Signs     []DiagnoseSign `json:"signs"` // all that may be noticed
	Answer    site.Diagnosis `json:"answer"`
	About     string         `json:"about"`     // which valve the numbers are of
	Done      []DiagnoseDone `json:"done"`      // tests done, in words
	Sheet     string         `json:"sheet"`     // for the crew: a page that needs no network
	LastWords string         `json:"last_test"` // what to do where no test is left; empty else
	ByLevels  []string       `json:"by_levels"` // tests that levels of the wet well answer, by ID
	ByLogger  []string       `json:"by_logger"` // those that a logger's file answers
	Cautions  []string       `json:"cautions"`  // before anybody goes to a wet well

	StopCautions []string `json:"stop_cautions"` // before a stop is made to be logged
}

// DiagnoseSign is one thing that may be noticed.
type DiagnoseSign struct {
	ID    string `json:"id"`
	Group string `json:"group" jsonschema:"enum=seen,enum=when,enum=since"`
	Text  string `json:"text"`
}

// DiagnoseDone is a test that was done.
type DiagnoseDone struct {
	Test    string `json:"test"`
	Title   string `json:"title"`
	Reading string `json:"reading"`
}

// Diagnose goes from what was noticed to causes and the next safe test.
func (d *Desk) Diagnose(ctx context.Context, in DiagnoseRequest) (*DiagnoseReply, error) {
	book, list := diagnosis.Base()
	if list.Err() != nil {
		return nil, list
	}
	t := &site.Trouble{Book: book, Case: &diagnosis.Case{Signs: []string{}, Found: map[string]string{}}}
	if err := noticed(book, t.Case, in); err != nil {
		return nil, err
	}
	if in.Text != "" {
		if err := d.trouble(ctx, t, in); err != nil {
			return nil, err
		}
	}
	t.Answer = book.Weigh(t.Case)
	page, err := site.Sheet(t.Name, &t.Answer, t.Facts)
	if err != nil {
		return nil, err
	}
	out := &DiagnoseReply{
		Signs: []DiagnoseSign{}, Answer: t.Form(), Done: []DiagnoseDone{}, Sheet: string(page),
		About: t.ValveWords("choose a valve"), ByLevels: []string{site.LeakTest, site.DrawdownTest},
		ByLogger: []string{site.LoggerTest}, Cautions: site.Cautions(), StopCautions: site.StopCautions(),
	}
	for i := range book.Signs {
		s := &book.Signs[i]
		out.Signs = append(out.Signs, DiagnoseSign{s.ID, s.Group, s.Text})
	}
	for i := range book.Tests {
		c := &book.Tests[i]
		if r, ok := t.Case.Found[c.ID]; ok {
			out.Done = append(out.Done, DiagnoseDone{c.ID, c.Title, c.Reading(r)})
		}
	}
	if len(t.Answer.Next) == 0 {
		out.LastWords = diagnosis.NoTest
	}
	return out, nil
}

// noticed reads signs and findings.
func noticed(book *diagnosis.Book, c *diagnosis.Case, in DiagnoseRequest) error {
	for _, id := range in.Signs {
		if !book.HasSign(id) {
			return &Error{ID: "sign-unknown", Text: "no sign is called " + id, Mend: "take one of the list"}
		}
		c.Signs = append(c.Signs, id)
	}
	for test, reading := range in.Found {
		if _, _, err := book.ParseFound(test + "=" + reading); err != nil {
			return &Error{ID: "finding-unknown", Text: err.Error(), Mend: "take a test and a reading of the answer"}
		}
		c.Found[test] = reading
	}
	return nil
}

// trouble adds the numbers of the station, with the valve that is there now.
func (d *Desk) trouble(ctx context.Context, t *site.Trouble, in DiagnoseRequest) error {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return err
	}
	there := site.Place{Valve: in.Valve, Catalogs: d.catalogs}
	return NoAnswer(t.At(st, there, func(valve string) (*judge.Assessment, error) {
		s, id, err := d.Study(ctx, AnswerRequest{Text: in.Text, Units: in.Units, Valve: valve}, RunsShown, nil)
		if errors.Is(err, study.ErrNoFlow) {
			return nil, nil
		}
		if err != nil {
			return nil, err
		}
		place, err := shown(s, id)
		if err != nil {
			return nil, err
		}
		return &s.Assessments[place], nil
	}))
}
