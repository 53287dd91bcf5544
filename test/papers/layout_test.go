package papers

import (
	"encoding/xml"
	"fmt"
	"html"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// A page as another program lays its words out, in points from the upper left corner.
type (
	bboxPage struct {
		Width  float64    `xml:"width,attr"`
		Height float64    `xml:"height,attr"`
		Lines  []bboxLine `xml:"flow>block>line"`
	}
	bboxLine struct {
		YMin  float64    `xml:"yMin,attr"`
		YMax  float64    `xml:"yMax,attr"`
		Words []bboxWord `xml:"word"`
	}
	bboxWord struct {
		XMin float64 `xml:"xMin,attr"`
		YMin float64 `xml:"yMin,attr"`
		XMax float64 `xml:"xMax,attr"`
		YMax float64 `xml:"yMax,attr"`
		Text string  `xml:",chardata"`
	}
)

// The text area of a page, in points: its side margins, and where heads end and feet begin.
const (
	mm      = 72 / 25.4
	side    = 19 * mm
	headEnd = 20.5 * mm
	footMM  = 16 * mm
)

// laid are the pages of a PDF.
func laid(t *testing.T, file string) []bboxPage {
	t.Helper()
	var doc struct {
		Pages []bboxPage `xml:"body>doc>page"`
	}
	d := xml.NewDecoder(strings.NewReader(reads(t, "pdftotext", "-bbox-layout", file, "-")))
	d.Strict, d.Entity = false, xml.HTMLEntity
	if err := d.Decode(&doc); err != nil || len(doc.Pages) == 0 {
		t.Fatalf("%s: %d pages, %v", file, len(doc.Pages), err)
	}
	return doc.Pages
}

// body are the lines between head and foot.
func (p bboxPage) body() []bboxLine {
	return slices.DeleteFunc(slices.Clone(p.Lines), func(l bboxLine) bool {
		return l.YMax < headEnd || l.YMin > p.Height-footMM
	})
}

func (l bboxLine) text() string {
	var out []string
	for _, w := range l.Words {
		out = append(out, w.Text)
	}
	return strings.Join(out, " ")
}

// everyPDF visits the PDF of every kind, station, paper and unit system that has its HTML
// beside it.
func everyPDF(t *testing.T, visit func(t *testing.T, file string)) {
	t.Helper()
	kinds := map[string]bool{}
	for _, s := range sets {
		for _, f := range files(t, s.name, "pdf") {
			kinds[strings.SplitN(filepath.Base(f), "-", 2)[0]] = true
			t.Run(s.name+"/"+filepath.Base(f), func(t *testing.T) { visit(t, f) })
		}
	}
	if len(kinds) != 11 {
		t.Errorf("%d kinds were looked at: %v", len(kinds), kinds)
	}
}

var (
	notText = regexp.MustCompile(`(?s)<style.*?</style>`)
	tag     = regexp.MustCompile(`<[^>]*>`)
	heading = regexp.MustCompile(`(?s)<(?:h[1-6]|caption)[^>]*>(.*?)</(?:h[1-6]|caption)>`)
)

func page0(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(strings.TrimSuffix(file, ".pdf") + ".html")
	if err != nil {
		t.Fatal(err)
	}
	return notText.ReplaceAllString(string(data), " ")
}

// written are the words of the same paper as HTML, which breaks none.
func written(t *testing.T, file string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	for _, between := range []string{" ", ""} { // marks within words, and between them
		for _, w := range strings.Fields(html.UnescapeString(tag.ReplaceAllString(page0(t, file), between))) {
			out[w] = true
		}
	}
	return out
}

var (
	counted = regexp.MustCompile(`^\d{1,2}\.?$`)
	bare    = regexp.MustCompile(`^[^\pL\pN]+$`)
)

// TestNothingIsBroken: no number and no word of a paper ends at the edge of a cell or a line:
// each is a word of the same paper as HTML, or a part of one that ends at a mark outside of
// numbers.
func TestNothingIsBroken(t *testing.T) {
	everyPDF(t, func(t *testing.T, file string) {
		known := written(t, file)
		if len(known) < 60 {
			t.Fatalf("%d words in the HTML", len(known))
		}
		for n, p := range laid(t, file) {
			contents := slices.ContainsFunc(p.body(), func(l bboxLine) bool { return l.text() == "Contents" })
			for _, l := range p.body() {
				for i, w := range l.Words {
					if known[w.Text] || bare.MatchString(w.Text) || partOf(known, w.Text) {
						continue
					}
					if counted.MatchString(w.Text) && (i == 0 && strings.HasSuffix(w.Text, ".") || contents) {
						continue // the number of an item, or of a page
					}
					t.Errorf("page %d: %q is no word of the paper: %q", n+1, w.Text, l.text())
				}
			}
		}
	})
}

// partOf is true for a part of a word that begins and ends at a mark.
func partOf(known map[string]bool, part string) bool {
	for w := range known {
		for from := 0; ; {
			at := strings.Index(w[from:], part)
			if at < 0 {
				break
			}
			at += from
			if atMark(w, at) && atMark(w, at+len(part)) {
				return true
			}
			from = at + 1
		}
	}
	return false
}

// atMark is true where a word may come apart: at its ends, and behind a mark that does not
// stand between two digits.
func atMark(w string, at int) bool {
	if at == 0 || at == len(w) {
		return true
	}
	before, after := []rune(w[:at]), []rune(w[at:])
	mark := before[len(before)-1]
	if !strings.ContainsRune("/-_=,;:·–", mark) {
		return false
	}
	return len(before) < 2 || !unicode.IsDigit(before[len(before)-2]) || !unicode.IsDigit(after[0])
}

// TestAllStandsInItsPlace: no word stands in the margin, and none is set over another.
func TestAllStandsInItsPlace(t *testing.T) {
	everyPDF(t, func(t *testing.T, file string) {
		for n, p := range laid(t, file) {
			var all []bboxWord
			for _, l := range p.Lines {
				all = append(all, l.Words...)
			}
			for i, w := range all {
				if w.XMin < side-1 || w.XMax > p.Width-side+1 || w.YMin < 8*mm || w.YMax > p.Height-6*mm {
					t.Errorf("page %d: %q stands in the margin, from %.0f to %.0f of %.0f pt", n+1, w.Text, w.XMin, w.XMax,
						p.Width)
				}
				for _, o := range all[:i] {
					if over(w, o) {
						t.Errorf("page %d: %q is set over %q", n+1, w.Text, o.Text)
					}
				}
			}
		}
	})
}

// over is true for words that share more than a quarter of the lower one's height.
func over(a, b bboxWord) bool {
	wide := min(a.XMax, b.XMax) - max(a.XMin, b.XMin)
	high := min(a.YMax, b.YMax) - max(a.YMin, b.YMin)
	return wide > 1 && high > 0.45*min(a.YMax-a.YMin, b.YMax-b.YMin)
}

// TestNoHeadingStandsAlone: the last line of a page is no heading and no caption of a table.
func TestNoHeadingStandsAlone(t *testing.T) {
	everyPDF(t, func(t *testing.T, file string) {
		heads := map[string]bool{}
		for _, m := range heading.FindAllStringSubmatch(page0(t, file), -1) {
			heads[strings.Join(strings.Fields(html.UnescapeString(tag.ReplaceAllString(m[1], ""))), " ")] = true
		}
		if len(heads) < 1 {
			t.Fatalf("%d headings in the HTML", len(heads))
		}
		pages := laid(t, file)
		for n, p := range pages[:len(pages)-1] {
			last, beside := bboxLine{}, false
			for _, l := range p.body() {
				switch {
				case l.YMax > last.YMax+2:
					last, beside = l, false
				case l.YMax > last.YMax-2:
					beside = true // an entry of the contents, with the number of its page
				}
			}
			if heads[last.text()] && !beside {
				t.Errorf("page %d: the heading %q stands alone at the foot", n+1, last.text())
			}
		}
	})
}

// forced lists the kinds whose pages may end early, since a new sheet begins there by design.
var forced = map[string]string{
	"submittal": "each part of a submittal may begin a sheet of its own",
}

// TestPagesAreFilled: every page is more than half full, but the last of a paper.
func TestPagesAreFilled(t *testing.T) {
	looked := 0
	everyPDF(t, func(t *testing.T, file string) {
		if forced[strings.SplitN(filepath.Base(file), "-", 2)[0]] != "" {
			return
		}
		base := filepath.Join(t.TempDir(), "page")
		reads(t, "pdftoppm", "-gray", "-r", "40", "-png", file, base)
		pages, err := filepath.Glob(base + "-*.png")
		if err != nil || len(pages) == 0 {
			t.Fatalf("%d pages, %v", len(pages), err)
		}
		slices.Sort(pages)
		for n, p := range pages[:len(pages)-1] {
			looked++
			if share := filled(t, p); share < 0.5 {
				t.Errorf("page %d of %d: %.0f %% full", n+1, len(pages), 100*share)
			}
		}
	})
	if looked < 40 {
		t.Errorf("only %d pages were looked at", looked)
	}
}

// filled is the share of the height between head and foot above the lowest thing drawn.
func filled(t *testing.T, name string) float64 {
	t.Helper()
	img := picture(t, name)
	b := img.Bounds()
	perMM := 40 / 25.4
	top, foot := int(22*perMM), b.Max.Y-int(17*perMM)
	for y := foot; y > top; y-- {
		if drawn(img, y) {
			return float64(y-top) / float64(foot-top)
		}
	}
	return 0
}

func drawn(img image.Image, y int) bool {
	for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
		if color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y < 240 {
			return true
		}
	}
	return false
}

// TestUnitsOfASentence: no sentence has two magnitudes of one family of units, and a metric
// paper has no mils, no pipe threads and no bolts in inches.
func TestUnitsOfASentence(t *testing.T) {
	everyPDF(t, func(t *testing.T, file string) {
		metric := strings.Contains(file, "-SI") || strings.Contains(file, "A4")
		text := html.UnescapeString(tag.ReplaceAllString(page0(t, file), "\n"))
		for line := range strings.SplitSeq(text, "\n") {
			for _, s := range sentences(line) {
				if bad := mixed(s); bad != "" {
					t.Errorf("%s: %q", bad, s)
				}
				if metric {
					if m := customary.FindString(inBrackets.ReplaceAllString(s, "")); m != "" {
						t.Errorf("%q in a metric paper: %q", m, s)
					}
				}
			}
		}
	})
}

var (
	customary = regexp.MustCompile(`\d\s*mils?\b|\bNPT\b|\d\s*in(?:ch)? bolts?\b`)
	amount    = regexp.MustCompile(`(?:^|[\s(])[−-]?\d[\d.,]*\s(in|ft|mi|mm|cm|m|km|psi|ksi|kPa|MPa|bar|Pa|gpm|L/s|m³/h|ft/s|m/s|mm/s|lb|kg|g|t)(?:$|[\s.,;:)])`)
)

// families are units of one thing in one system, of which a sentence takes one.
var families = [][]string{
	{"in", "ft", "mi"},
	{"mm", "cm", "m", "km"},
	{"psi", "ksi"},
	{"Pa", "kPa", "MPa", "bar"},
	{"kg", "g", "t"},
	{"m/s", "mm/s"},
}

// mixed names two units of one family in a sentence. The size of a valve, pipe or inlet is a
// name and no length.
func mixed(sentence string) string {
	if strings.Contains(sentence, " = ") {
		return "" // an equation has the units of its source
	}
	var found []string
	for _, m := range amount.FindAllStringSubmatch(size.ReplaceAllString(sentence, " "), -1) {
		found = append(found, m[1])
	}
	for _, f := range families {
		var of []string
		for _, u := range f {
			if slices.Contains(found, u) {
				of = append(of, u)
			}
		}
		if len(of) > 1 {
			return fmt.Sprintf("%s in one sentence", strings.Join(of, " and "))
		}
	}
	return ""
}

// inBrackets is the other unit of a thing that is ordered by it.
var inBrackets = regexp.MustCompile(`\([^()]*\)`)

var size = regexp.MustCompile(`inlet of \d[\d.]* (?:in|mm)\b|\d[\d.]* in \(DN\d+\)|\b(?:check|valve|plain|pipe|size|NPS),? \d[\d.]* in\b`)

// sentences cuts a text at the stops that end them.
func sentences(s string) []string {
	return regexp.MustCompile(`[.;] +(?:\p{Lu}|$)`).Split(strings.TrimSpace(s), -1)
}

func TestMixed(t *testing.T) {
	for s, want := range map[string]bool{
		"15.7 in long; only 1.17 ft are free":    true,
		"Swing check, 6 in (DN150), 14 ft above": false,
		"0.5 in and 3 in":                        false,
		"1380 kPa at 2 MPa":                      true,
		"3 m and 2 ft":                           false,
		"Swing check, plain, 6 in at 12.3 ft":    false,
	} {
		if got := mixed(s) != ""; got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
}
