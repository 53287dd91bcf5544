package e2e

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// onDrawing presses for the film of a row, which takes the drawing's place.
func (b *tab) onDrawing(valve string) {
	b.t.Helper()
	b.press("[...document.querySelectorAll(" + quote("#rows [data-valve="+quote(valve)+"] button") +
		")].find((e) => e.textContent.trim() === 'Pump stop film')")
	b.answered()
	b.await("the film in the drawing's place", "document.querySelector('#sheet-part .pl-film.on-drawing .pl-station svg') && document.querySelector('#drawing').hidden")
	b.await("its events", "document.querySelector('.pl-head select').options.length > 1")
	b.tripReady()
}

const (
	chipsReady = "document.querySelectorAll('.pl-chip').length > 4"
	chip       = "[...document.querySelectorAll('.pl-chip')].find((e) => e.textContent.startsWith('Flywheel'))"
)

// chips waits for the remedies, which are run once they are looked at.
func (b *tab) chips() {
	b.t.Helper()
	b.run(chromedp.Evaluate("document.querySelector('.pl-cures').scrollIntoView({block: 'center'})", nil))
	b.await("the remedies", chipsReady)
}

// The film plays on the station's drawing, opens at the row's stop, and a click on an event or
// on a mark goes there.
func TestFilmOnTheDrawing(t *testing.T) {
	for _, s := range []size{{1280, 800}, {768, 1024}, {390, 844}} {
		b := newTab(t, s)
		b.open(serve(t))
		b.onDrawing("swing/6in")
		b.chips()
		b.run(chromedp.Evaluate("document.querySelector('#sheet-part').scrollIntoView()", nil))
		name := jsNumber(float64(s.w))
		b.shot("stage-begin-" + name)
		b.press("[...document.querySelectorAll('.pl-moment')].find((e) => e.textContent.includes('closes'))")
		b.await("the valve closes", "document.querySelector('.pl-caption').textContent.includes('closes')")
		b.run(chromedp.Evaluate("document.querySelector('#sheet-part').scrollIntoView()", nil))
		b.shot("stage-closes-" + name)
		if over := value[int](b, "document.documentElement.scrollWidth - innerWidth"); over > 0 {
			t.Errorf("%d px wide: the page is %d px wider", s.w, over)
		}
		b.axe("film on the drawing, " + name)
		b.press(chip)
		b.await("before and after", "document.querySelectorAll('.pl-cure tbody tr').length === 3")
		b.tripReady()
		b.run(chromedp.Evaluate("document.querySelector('.pl-cures').scrollIntoView({block: 'end'})", nil))
		b.shot("stage-cure-" + name)
		b.press(named("Back to the numbers"))
		b.await("the numbers", "!document.querySelector('#drawing').hidden && !document.querySelector('#sheet-part .pl-film')")
	}
}

// What the page reads off a film at any time is what the CSV of the trip has.
func TestFilmAgainstCSV(t *testing.T) {
	const file, valve, event = "../../examples/layout.station.yaml", "swing/6in", "one-trips-low"
	out := filepath.Join(t.TempDir(), "trip.csv")
	if said, err := exec.Command(program, "trip", file, "--valve", valve, "--event", event, "--no-remedies", "--csv", out).
		CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(k, i int) float64 {
		x, err := strconv.ParseFloat(rows[k][i], 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	n := len(rows)
	rnd := rand.New(rand.NewPCG(16, 5))
	var times []float64
	for range 200 {
		times = append(times, number(n-1, 0)*rnd.Float64())
	}
	list, err := json.Marshal(times)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	b := newTab(t, desktop)
	b.open(serve(t))
	var got map[string][]float64
	b.run(chromedp.Evaluate(`(async () => {
		const url = (name) => performance.getEntriesByType('resource').map((e) => e.name).find((n) => n.includes(name));
		const film = await import(url('/film.js')), api = await import(url('/api.js'));
		const r = film.decode(await api.post('trip', { text: `+quote(string(text))+`, valve: '`+valve+`', event: '`+event+`', frames: 600, no_remedies: true }, {}));
		return Object.fromEntries(r.series.map((s) => [s.name, `+string(list)+`.map((t) => film.valueAt(s, t))]));
	})()`, &got, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	if len(got) < 6 {
		t.Fatalf("readings %d", len(got))
	}
	for name, values := range got {
		column := slices.IndexFunc(rows[0], func(head string) bool { return strings.HasPrefix(head, name) })
		if column < 0 {
			t.Errorf("the CSV has no %s", name)
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		for k := 1; k < n; k++ {
			low, high = math.Min(low, number(k, column)), math.Max(high, number(k, column))
		}
		for i, at := range times {
			k := 1
			for k+2 < n && number(k+1, 0) <= at {
				k++
			}
			share := math.Max(0, (at-number(k, 0))/(number(k+1, 0)-number(k, 0)))
			want := number(k, column) + share*(number(k+1, column)-number(k, column))
			if off := math.Abs(values[i] - want); off > 2e-4*(high-low)+1e-6 {
				t.Errorf("%s at %g s: the film has %g, the CSV %g", name, at, values[i], want)
			}
		}
	}
}

// The slam is heard once somebody asks for it, and the page hears where the film stands, for a link.
func TestSoundOnRequest(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.onDrawing("swing/6in")
	b.run(chromedp.Evaluate(`(() => {
		window.blows = [];
		const made = AudioContext.prototype.createOscillator;
		AudioContext.prototype.createOscillator = function () { window.blows.push(this.state); return made.call(this); };
	})()`, nil))
	const closes = "[...document.querySelectorAll('.pl-moment')].find((e) => e.textContent.includes('closes'))"
	b.press(closes)
	b.await("the closing", "document.querySelector('.pl-caption').textContent.includes('closes')")
	if n := value[int](b, "window.blows.length"); n != 0 {
		t.Errorf("%d slams are heard that nobody asked for", n)
	}
	const link = "new URLSearchParams(location.hash.slice(1))"
	b.await("the address says where it stands", link+".get('event') === 'one-trips-low' && "+
		link+".get('t') > 0.4 && "+link+".get('t') < 0.6")
	b.press(query(".pl-sound"))
	b.press(closes)
	b.await("one slam", "window.blows.length === 1")
	b.press(query(".pl-sound"))
	b.press(closes)
	b.await("no more", "document.querySelector('.pl-sound').getAttribute('aria-pressed') === 'false'")
	if n := value[int](b, "window.blows.length"); n != 1 {
		t.Errorf("%d slams were heard, one was asked for", n)
	}
}

// A remedy is taken into the station file, the rows follow, and undo takes it out.
func TestTakeARemedy(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.onDrawing("swing/6in")
	b.chips()
	b.press(chip)
	b.await("before and after", "document.querySelectorAll('.pl-cure tbody tr').length === 3")
	b.tripReady()
	after := value[string](b, "document.querySelector('.pl-cure tbody tr td:last-child').textContent.split(',')[0]")
	film := value[string](b, "document.querySelector('.pl-closing').textContent")
	b.press(named("Take it into the station"))
	b.await("the step", "!document.querySelector('#m-undo').disabled")
	b.answered()
	row := value[string](b, "document.querySelector('#rows [data-valve=\"swing/6in\"]').innerText")
	b.await("the row with the flywheel "+after+", and not "+row, "document.querySelector('#rows [data-valve=\"swing/6in\"]').innerText.includes("+quote(after)+")")
	if film == "" {
		t.Error("the film of the remedy says nothing")
	}
	b.press(query("#m-undo"))
	b.answered()
	b.await("the station as it was", "!document.querySelector('#rows [data-valve=\"swing/6in\"]').innerText.includes("+quote("velocity\n"+after)+")")
}
