package e2e

import (
	"testing"
)

// sign ticks what was noticed.
func sign(id string) string {
	return "document.querySelector('.asked-signs input[value=\"" + id + "\"]')"
}

// A crew leader who knows nothing of the station but what was heard ticks it, does the next test,
// gives back what it showed, and takes the sheet along.
func TestTroubleWithoutAStation(t *testing.T) {
	b := newTab(t, phone)
	b.visit(serve(t))
	b.press(named("It bangs or leaks"))
	b.await("the signs", "document.querySelectorAll('.asked-signs input').length > 20")
	b.shot("trouble-signs")
	b.press(sign("spins-backward"))
	b.await("causes", "document.querySelectorAll('.cause-list > li').length > 0")
	first := value[string](b, "document.querySelector('.cause-list > li strong').textContent")
	b.shot("trouble-causes-phone")
	b.axe("trouble on a phone")
	b.press("document.querySelector('.reading button')")
	b.await("the test is done", "[...document.querySelectorAll('#dialog h3')].some((e) => e.textContent === 'Tests done')")
	b.press(named("Take back"))
	b.await("as before", "document.querySelector('.cause-list > li strong')?.textContent === "+quote(first)+
		" && ![...document.querySelectorAll('#dialog h3')].some((e) => e.textContent === 'Tests done')")
	b.press(named("Field sheet for the crew"))
}

// With the station on the sheet its own numbers speak, in the units of the page.
func TestTroubleAtTheStation(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.press(query("#m-trouble"))
	b.await("the signs", "document.querySelectorAll('.asked-signs input').length > 20")
	b.press(sign("bangs-twice"))
	b.press(sign("at-stop"))
	b.run(pickValue("#t-valve", "swing/6in"))
	b.await("numbers of this valve at this station",
		"document.querySelector('.causes').textContent.includes('Present valve: swing/6in') && /reverse velocity [\\d.]+ ft\\/s/.test(document.querySelector('.causes').textContent)")
	b.shot("trouble-station")
	b.axe("trouble")
	b.run(pickValue("#t-valve", "no-such/valve"))
	b.await("the refusal", "document.querySelector('.causes .fault')?.textContent.includes('no-such')")
}
