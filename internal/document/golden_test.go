package document_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/quantity"
)

// TestGolden holds the content of every kind as text.
func TestGolden(t *testing.T) {
	r := request(t, "study", quantity.US, true)
	r.Compared = []string{"flap/6in", "ball-pocket/6in", "swing-assisted-spring/6in", "swing/6in"}
	d := dossier(t, r, "flap/6in")
	for _, k := range document.Kinds() {
		t.Run(k.ID, func(t *testing.T) {
			got := outline(d.Make(k))
			file := filepath.Join("testdata", k.ID+".txt")
			if os.Getenv("SEATWARD_UPDATE") != "" {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("the content of %s is not that of %s; look at the difference, then renew it with SEATWARD_UPDATE=1", k.ID, file)
			}
		})
	}
}

// outline prints a document's tree.
func outline(d *document.Document) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s | %s | %s | %s\nrevision %s, date %s, %s, %s\n\n", d.Kind, d.Title, d.Subject, d.Company,
		d.Revision, d.Date, d.Paper, d.Mark)
	for _, block := range d.Blocks {
		switch x := block.(type) {
		case document.Heading:
			fmt.Fprintf(&b, "\n%s %s\n", strings.Repeat("#", x.Level), x.Text)
		case document.Paragraph:
			fmt.Fprintf(&b, "[%d] %s|%s\n", x.Tone, x.Label, x.Text)
		case document.List:
			for _, i := range x.Items {
				fmt.Fprintf(&b, "* %s\n", i)
			}
		case document.Table:
			fmt.Fprintf(&b, "table %s %q form=%v\n", x.ID, x.Caption, x.Form)
			if !x.Form {
				for _, c := range x.Columns {
					fmt.Fprintf(&b, "| %s %s ", c.Title, c.Unit)
				}
				b.WriteString("\n")
			}
			for _, r := range x.Rows {
				for _, c := range r.Cells {
					text := c.Text
					if c.Blank {
						text = "____"
					}
					fmt.Fprintf(&b, "| %s ", text)
					if c.Formula != "" {
						fmt.Fprintf(&b, "= %s ", c.Formula)
					}
				}
				b.WriteString("\n")
			}
		case document.Clause:
			fmt.Fprintf(&b, "%s%s %s\n", strings.Repeat("  ", x.Level), x.Number, x.Text)
		case document.Listing:
			for _, l := range x.Lines {
				b.WriteString("    " + l + "\n")
			}
		case document.Figure:
			fmt.Fprintf(&b, "figure %s: %s\n", x.Caption, x.Text)
		case document.Code:
			fmt.Fprintf(&b, "code %s: %s\n", x.Text, x.Caption)
		case document.Space:
			fmt.Fprintf(&b, "space %s %v %g\n", x.Title, x.Lines, x.HeightMM)
		default:
			fmt.Fprintf(&b, "%T\n", x)
		}
	}
	fmt.Fprintf(&b, "\nmissing: %s\n", strings.Join(d.Missing, ", "))
	return b.String()
}
