package wording

import (
	"fmt"

	"seatward/internal/document"
)

// OrBlank is the text, or a line to write on where it is not given.
func OrBlank(s string) string {
	if s == "" {
		return "____"
	}
	return s
}

// Foot is number, revision and date in the wording of the document.
func Foot(d *document.Document) string {
	return document.Fill(d.Words.Foot, "number", OrBlank(d.Number), "revision", OrBlank(d.Revision), "date",
		OrBlank(d.Date))
}

// Caption is that of the nth figure, counted from 1, in the wording of the document.
func Caption(d *document.Document, n int, caption string) string {
	if d.Words.Figure == "" {
		return caption
	}
	return document.Fill(d.Words.Figure, "n", fmt.Sprint(n), "caption", caption)
}

// Body is the text of a paragraph as read: with the sign of its tone, unless the word
// Warning stands before it.
func Body(p document.Paragraph) string {
	if p.Label == "" && p.Tone == document.Warning {
		return p.Text
	}
	return Marked(p.Text, p.Tone)
}
