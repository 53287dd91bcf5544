package papers

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestPDF reads every PDF back: its structure, properties, fonts and text.
func TestPDF(t *testing.T) {
	for paper, size := range map[string]string{"letter": "612 x 792", "A4": "595.28 x 841.89"} {
		for _, f := range files(t, paper, "pdf") {
			t.Run(paper+"/"+filepath.Base(f), func(t *testing.T) {
				reads(t, "qpdf", "--check", f)
				info := reads(t, "pdfinfo", f)
				pages := number(t, info, `Pages:\s+(\d+)`)
				for _, want := range []string{
					`Tagged:\s+yes`, `Title:\s+\S`,
					`Author:\s+Application desk, Marram Ness Pump Works`, `Page size:\s+` + strings.ReplaceAll(size,
						".", `\.`), `CreationDate:\s+Wed Nov 25`,
				} {
					if !regexp.MustCompile(want).MatchString(info) {
						t.Errorf("pdfinfo does not tell %s:\n%s", want, info)
					}
				}
				fonts(t, f)
				text(t, f, pages)
				if strings.HasPrefix(filepath.Base(f), "datasheet") && pages > 2 {
					t.Errorf("the data sheet has %d pages, at most 2 are wanted", pages)
				}
			})
		}
	}
}

// number is the number in the first group of the expression.
func number(t *testing.T, s, expression string) int {
	t.Helper()
	m := regexp.MustCompile(expression).FindStringSubmatch(s)
	if m == nil {
		t.Fatalf("%q is not in:\n%s", expression, s)
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// fonts: every font is embedded, and its characters can be copied.
func fonts(t *testing.T, f string) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(reads(t, "pdffonts", f)), "\n")
	if len(lines) < 3 {
		t.Errorf("no fonts: %q", lines)
	}
	for _, l := range lines[2:] {
		if !regexp.MustCompile(`CID TrueType\s+Identity-H\s+yes\s+\w+\s+yes`).MatchString(l) {
			t.Errorf("not embedded, or no text can be copied: %s", l)
		}
	}
}

// text: each page has its number, and no character is lost.
func text(t *testing.T, f string, pages int) {
	t.Helper()
	all := reads(t, "pdftotext", "-layout", f, "-")
	for n := 1; n <= pages; n++ {
		if want := fmt.Sprintf("Page %d of %d", n, pages); !strings.Contains(all, want) {
			t.Errorf("%s is missing", want)
		}
	}
	if strings.ContainsAny(all, "□\uFFFD") {
		t.Error("a character is not in the font")
	}
	if strings.Contains(f, "calculation") {
		for _, h := range hard {
			if !strings.Contains(all, h) {
				t.Errorf("%s cannot be found in the text", h)
			}
		}
	}
}

// TestBookmarks: the long documents have an outline, and headings in their structure.
func TestBookmarks(t *testing.T) {
	for _, kind := range []string{"submittal", "calculation", "specification"} {
		all := slices.DeleteFunc(files(t, "letter", "pdf"),
			func(f string) bool { return !strings.HasPrefix(filepath.Base(f), kind) })
		for _, f := range all {
			if tree := reads(t, "pdfinfo", "-struct-text", f); strings.Count(tree, "H2 ") < 3 &&
				strings.Count(tree, "H3") < 3 {
				t.Errorf("%s: the structure has no headings", f)
			}
			if out := reads(t, "qpdf", "--json", "--json-key=outlines", f); strings.Count(out, `"title"`) < 3 {
				t.Errorf("%s: no outline", f)
			}
		}
	}
}

// Where nothing may stand: the outermost part of a page, as a share of its width.
const margin = 0.03

// TestPages renders every page, as a gray printer would: none is blank, nothing runs over
// the edge, and what is printed is dark enough to be read.
func TestPages(t *testing.T) {
	for _, paper := range []string{"letter", "A4"} {
		for _, f := range files(t, paper, "pdf") {
			base := strings.TrimSuffix(f, ".pdf")
			reads(t, "pdftoppm", "-gray", "-r", "60", "-png", f, base)
			pages, err := filepath.Glob(base + "-*.png")
			if err != nil || len(pages) == 0 {
				t.Fatalf("%s: no page", f)
			}
			for _, p := range pages {
				page(t, p)
			}
		}
	}
}

func page(t *testing.T, name string) {
	t.Helper()
	img := picture(t, name)
	b := img.Bounds()
	edge := int(margin * float64(b.Dx()))
	inner := image.Rect(b.Min.X+edge, b.Min.Y+edge, b.Max.X-edge, b.Max.Y-edge)
	dark, outside := 0, 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			switch g := color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y; {
			case g < 250 && !image.Pt(x, y).In(inner):
				outside++
			case g < 110:
				dark++
			}
		}
	}
	if outside > 0 {
		t.Errorf("%s: %d points stand in the margin", name, outside)
	}
	if dark < 200 {
		t.Errorf("%s: %d dark points: a blank page, or one too pale for a gray printer", name, dark)
	}
}

var (
	streams = regexp.MustCompile(`(?s)\nstream\n(.*?)\nendstream`)
	paints  = regexp.MustCompile(`(?:^| )(Tj|TJ|S|s|f|F|B|b|Do)(?: |$)`)
	begins  = regexp.MustCompile(`(BDC|BMC)$`)
)

// TestAllIsTaggedOrArtifact: whatever is drawn on a page is content of the structure or marked
// as none, which ISO 14289-1 (PDF/UA-1), 7.1, asks for first.
func TestAllIsTaggedOrArtifact(t *testing.T) {
	drawn := 0
	for _, f := range files(t, "letter", "pdf") {
		plain := reads(t, "qpdf", "--qdf", "--object-streams=disable", "--normalize-content=y", f, "-")
		for _, m := range streams.FindAllStringSubmatch(plain, -1) {
			if !strings.Contains(m[1], "/Artifact") { // the content of a page has a head and a foot
				continue
			}
			depth := 0
			for line := range strings.SplitSeq(m[1], "\n") {
				switch {
				case begins.MatchString(line):
					depth++
				case line == "EMC":
					depth--
				case paints.MatchString(line):
					drawn++
					if depth == 0 {
						t.Errorf("%s: %q stands outside of the structure", filepath.Base(f), line)
					}
				}
			}
			if depth != 0 {
				t.Errorf("%s: %d marks are left open", filepath.Base(f), depth)
			}
		}
	}
	if drawn < 1000 {
		t.Errorf("only %d things were looked at", drawn)
	}
}

// picture reads a page that was drawn as PNG.
func picture(t *testing.T, name string) image.Image {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return img
}
