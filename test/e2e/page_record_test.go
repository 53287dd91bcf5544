package e2e

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// slamHeld is the slam of a valve as the machine form of a study has it.
type slamHeld struct {
	Class   string
	Event   string
	Reverse struct{ Low, Best, High float64 } `json:"reverse_velocity_m_s"`
	Chances struct{ Quiet, Audible, Harmful float64 }
}

// slamsOf is the slam of every valve, as the command line has it.
func slamsOf(t *testing.T, file string) map[string]slamHeld {
	t.Helper()
	out, err := exec.Command(program, "select", "--json", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	var study struct {
		Candidates []struct {
			ID   string
			Slam slamHeld
		}
	}
	if err := json.Unmarshal(out, &study); err != nil {
		t.Fatal(err)
	}
	all := map[string]slamHeld{}
	for _, c := range study.Candidates {
		all[c.ID] = c.Slam
	}
	return all
}

// rowHeld is a row of the page: what the server sent for it, and what stands there to be read.
type rowHeld struct {
	ID   string
	Best string // the reverse velocity as it stands in the row
	Says string // all of the row
	Slam struct {
		Class, Event, Text string
		Words              string `json:"class_words"` // by which the verdict goes
		Low, Best, High    float64
		Chances            struct{ Quiet, Audible, Harmful float64 }
	}
}

// rowsShown are the rows on the page, in order.
func (b *tab) rowsShown() []rowHeld {
	b.t.Helper()
	const js = `(async () => {
		const url = performance.getEntriesByType('resource').map((e) => e.name).find((n) => /\/state\.js/.test(n));
		const rows = (await import(url)).state.answer.rows;
		return [...document.querySelectorAll('#rows > li')].map((e) => ({
			ID: e.dataset.valve, Says: e.innerText, Slam: rows.find((r) => r.id === e.dataset.valve).slam,
			Best: [...e.querySelectorAll('.num')].find((n) => n.getAttribute('aria-label')?.startsWith('Reverse velocity'))?.textContent || '',
		}));
	})()`
	var out []rowHeld
	b.run(chromedp.Evaluate(js, &out,
		func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	return out
}

// told is a row of the film's table of numbers.
func told(name string) string {
	return "[...document.querySelectorAll('.pl-words-one tr')].find((e) => e.querySelector('th').textContent === " +
		quote(name) + ")?.querySelector('td').textContent || ''"
}

// film presses for the film of a row, and gives its event, its reverse velocity and its
// class in words.
func (b *tab) film(valve string) (event, reverse, class string) {
	b.t.Helper()
	row := "#rows [data-valve=" + quote(valve) + "]"
	b.press("[...document.querySelectorAll(" + quote(row+" .row-acts button") +
		")].find((e) => e.textContent.trim() === 'Pump stop film')")
	b.answered()
	name := value[string](b, "document.querySelector("+quote(row+" strong")+").textContent")
	b.await("the film of "+valve, "document.querySelector('.pl-name')?.textContent.startsWith("+quote(name)+")")
	b.tripReady()
	b.await("its numbers", "document.querySelector('.pl-words-one')")
	return value[string](b, "document.querySelector('.pl-head select').value"),
		value[string](b, told("reverse velocity")), value[string](b, told("slam"))
}

// Every row of the page has the reverse velocity, class and event of the command line, and
// the class that the verdict goes by; the
// film opens at the row's event and ends in the row's number; and looking at other valves
// changes no row.
func TestRowsAndFilmOfOneRecord(t *testing.T) {
	for _, file := range []string{
		"../../examples/layout.station.yaml", "../../internal/desk/testdata/riser.yaml",
		"../../internal/desk/testdata/short-lift.yaml",
	} {
		t.Run(strings.Split(file[strings.LastIndex(file, "/")+1:], ".")[0], func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			b := newTab(t, size{1280, 800})
			b.open(serve(t))
			b.drop("record.station.yaml", text)
			b.await("the station", "[...document.querySelectorAll('.toast')].some((e) => e.textContent.includes('record.station.yaml is on the sheet'))")
			b.await("its answer", throughAll+" && "+settledNow)
			if more := named("All "); value[bool](b, "!!("+more+")") {
				b.press(more)
			}
			rows := b.rowsShown()
			b.sameAs(slamsOf(t, file), rows)
			for _, i := range []int{0, len(rows) - 1, 0} {
				event, reverse, class := b.film(rows[i].ID)
				if event != rows[i].Slam.Event {
					t.Errorf("%s: the film is of %s, the row of %s", rows[i].ID, event, rows[i].Slam.Event)
				}
				if rows[i].Best == "" || !strings.HasPrefix(reverse, rows[i].Best) || class != rows[i].Slam.Words {
					t.Errorf("%s: the film says %q and %q, the row %q and %s", rows[i].ID, reverse, class, rows[i].Best,
						rows[i].Slam.Words)
				}
			}
			b.press("document.querySelector('#rows > li:nth-child(2) .row-acts button')")
			b.answered()
			b.press("document.querySelector('#rows > li:nth-child(1) .row-acts button')")
			b.answered()
			for i, r := range b.rowsShown() {
				if said := strings.ReplaceAll(r.Says, "On the drawing",
					"Draw it"); said != strings.ReplaceAll(rows[i].Says, "On the drawing", "Draw it") {
					t.Errorf("%s: the row was\n%s\nand is, after others were looked at,\n%s", r.ID, rows[i].Says,
						r.Says)
				}
			}
		})
	}
}

// sameAs fails where a row says other than the command line.
func (b *tab) sameAs(want map[string]slamHeld, rows []rowHeld) {
	b.t.Helper()
	if len(rows) == 0 || len(rows) != len(want) {
		b.t.Fatalf("%d rows, and %d valves on the command line", len(rows), len(want))
	}
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-12*math.Max(1, math.Abs(y)) }
	for _, r := range rows {
		w, s := want[r.ID], r.Slam
		if !near(s.Best, w.Reverse.Best) || !near(s.Low, w.Reverse.Low) || !near(s.High, w.Reverse.High) ||
			s.Class != w.Class || s.Event != w.Event || s.Chances != w.Chances {
			b.t.Errorf("%s: the row has %+v, the command line %+v", r.ID, s, w)
		}
		if !strings.HasPrefix(s.Text, r.Best) || r.Best == "" || s.Words == "" || !strings.Contains(r.Says, s.Words) {
			b.t.Errorf("%s: the row reads %q, and the record has %s, %s", r.ID, r.Says, s.Text, s.Words)
		}
	}
}
