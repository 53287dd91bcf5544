package wording

import (
	"fmt"
	"strings"

	"seatward/internal/document"
)

// Fill puts texts in place of names in braces, in one go, so that a brace in a text
// stays text.
func Fill(s string, pairs ...string) string {
	all := make([]string, 0, len(pairs))
	for i := 0; i+1 < len(pairs); i += 2 {
		all = append(all, "{"+pairs[i]+"}", pairs[i+1])
	}
	return strings.NewReplacer(all...).Replace(s)
}

// Caption is that of the nth figure, counted from 1, in the wording of the document.
func Caption(d *document.Document, n int, caption string) string {
	if d.Words.Figure == "" {
		return caption
	}
	return Fill(d.Words.Figure, "n", fmt.Sprint(n), "caption", caption)
}

// Body is the text of a paragraph as read: with the sign of its tone, unless the word
// Warning stands before it.
func Body(p document.Paragraph) string {
	if p.Label == "" && p.Tone == document.Warning {
		return p.Text
	}
	return Marked(p.Text, p.Tone)
}
