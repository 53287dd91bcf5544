package e2e

import (
	"context"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// frameWatch notes for each frame when it came, how long the page's own work took in it,
// and what that work changed in the page.
const frameWatch = `(() => {
  const seen = (window.frames60 = { at: [], own: [], changes: 0, built: 0 });
  const raf = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = (f) => raf((t) => {
    const from = performance.now();
    f(t);
    seen.own.push(performance.now() - from);
    seen.at.push(t);
  });
  addEventListener("DOMContentLoaded", () => {
    const player = document.querySelector("#player");
    if (player) new MutationObserver((all) => {
      seen.changes += all.length;
      seen.built += all.filter((m) => m.type === "childList").length;
    }).observe(player, { subtree: true, childList: true, attributes: true, characterData: true });
  });
})()`

// metrics are the browser's own counters.
func (b *tab) metrics() map[string]float64 {
	b.t.Helper()
	out := map[string]float64{}
	b.run(chromedp.ActionFunc(func(ctx context.Context) error {
		all, err := performance.GetMetrics().Do(ctx)
		for _, m := range all {
			out[m.Name] = m.Value
		}
		return err
	}))
	return out
}

// The film plays, frame by frame, and a frame only moves what has moved: it builds nothing
// and lays nothing out anew beyond the numbers that are shown ten times a second. The times
// are printed for people; a slow machine makes them long and must not fail.
func TestFramesOfTheFilm(t *testing.T) {
	b := newTab(t, desktop)
	b.media("prefers-reduced-motion", "no-preference")
	b.run(performance.Enable(), chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(frameWatch).Do(ctx)
		return err
	}))
	b.open(serve(t))
	b.tripReady()
	for _, two := range []bool{false, true} {
		if two {
			b.run(chromedp.Evaluate("(() => { const s = document.querySelectorAll('.pl-head select')[1]; s.selectedIndex = 2; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil))
			b.await("two valves", "document.querySelectorAll('.pl-lane').length === 2")
			b.tripReady()
		}
		b.chips()
		b.run(chromedp.Evaluate("document.querySelector('.pl-film').scrollIntoView()", nil))
		b.shot(map[bool]string{false: "film-one", true: "film-two"}[two])
		b.await("it plays", "document.querySelector('.pl-play').textContent === 'Pause'")
		b.run(chromedp.Evaluate("(() => { const f = window.frames60; f.at.length = f.own.length = f.changes = f.built = 0; })()", nil))
		before := b.metrics()
		b.run(chromedp.Sleep(3 * time.Second))
		after := b.metrics()
		type numbers struct {
			Frames, Changes, Built                         int
			IntervalMedian, IntervalP95, OwnMedian, OwnP95 float64
		}
		n := value[numbers](b, `(() => { const f = window.frames60; const of = (a, q) => a.toSorted((x, y) => x - y)[Math.floor(q * (a.length - 1))] || 0; const gaps = f.at.slice(1).map((t, i) => t - f.at[i]);
			return { Frames: f.at.length, Changes: f.changes, Built: f.built, IntervalMedian: of(gaps, 0.5), IntervalP95: of(gaps, 0.95), OwnMedian: of(f.own, 0.5), OwnP95: of(f.own, 0.95) }; })()`)
		if n.Frames < 10 {
			t.Fatalf("only %d frames in three seconds", n.Frames)
		}
		per := func(x float64) float64 { return x / float64(n.Frames) }
		layouts, styles := per(after["LayoutCount"]-before["LayoutCount"]), per(after["RecalcStyleCount"]-before["RecalcStyleCount"])
		t.Logf("two %v: %d frames; interval median %.1f ms, p95 %.1f ms; own work median %.2f ms, p95 %.2f ms; a frame: %.2f changes, %.2f built, %.2f layouts in %.2f ms, %.2f styles in %.2f ms, scripts %.2f ms",
			two, n.Frames, n.IntervalMedian, n.IntervalP95, n.OwnMedian, n.OwnP95, per(float64(n.Changes)),
			per(float64(n.Built)),
			layouts, 1000*per(after["LayoutDuration"]-before["LayoutDuration"]), styles, 1000*per(after["RecalcStyleDuration"]-before["RecalcStyleDuration"]), 1000*per(after["ScriptDuration"]-before["ScriptDuration"]))
		lanes := 1.0
		if two {
			lanes = 2
		}
		if n.Built > 0 {
			t.Errorf("two %v: the film builds %d things while it plays", two, n.Built)
		}
		// Moving parts, spring and arrow in each frame; the numbers ten times a second, however
		// few frames there are.
		if most := lanes * (6*float64(n.Frames) + 15*31); float64(n.Changes) > most {
			t.Errorf("two %v: %d changes in %d frames, more than %g", two, n.Changes, n.Frames, most)
		}
		if layouts > 1.5 { // more than one in a frame is read back between two changes
			t.Errorf("two %v: %.2f layouts in a frame", two, layouts)
		}
	}
}
