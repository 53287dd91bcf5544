package e2e

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
)

// What a lesson takes beside the keys; common practice, no source.
const (
	wordsPerMinute = 130 // of somebody who explains
	handsTime      = 15 * time.Second
	filmTime       = 20 * time.Second // two or three rounds of a film that slows itself
)

// A trainer opens the class by one click, and gives the whole lesson of a station by keys: each
// question read aloud, hands counted, the film watched, the answer read. It is ten minutes of
// speech, not twenty, and nothing else is touched.
func TestTenMinuteLesson(t *testing.T) {
	for _, name := range []string{"Dune Road lift station: study", "Lighthouse Hill booster: booster"} {
		t.Run(strings.Fields(name)[0], func(t *testing.T) {
			b := newTab(t, desktop)
			b.visit(serve(t))
			b.press(named(name))
			b.answered()
			b.press(query("#m-class"))
			b.await("the class", "document.querySelector('#lesson[open] h2')")
			var took time.Duration
			words, keys, questions := 0, 0, 0
			key := func(k string) { b.keys(k); keys++ }
			said := func(part string) {
				words += len(strings.Fields(value[string](b, "document.querySelector('#lesson "+part+"').innerText")))
			}
			for {
				questions++
				asked := value[string](b, "document.querySelector('#lesson h2').textContent")
				said("h2")
				if value[bool](b, "!!document.querySelector('#lesson .lesson-choice')") {
					said(".lesson-ballot")
					for range 5 {
						key("1")
					}
					took += handsTime
				}
				key(kb.ArrowDown)
				if value[bool](b, "document.querySelector('.lesson-answer').hidden") {
					b.await("the film plays", "document.querySelector('#lesson .pl-station svg') && !document.querySelector('#lesson .pl-body').hidden")
					took += filmTime
					key(kb.ArrowDown)
				}
				b.await("the answer to "+asked, "!document.querySelector('.lesson-answer').hidden")
				said(".lesson-answer")
				if value[bool](b, "[...document.querySelectorAll('.lesson-keys button')].at(-1).disabled") {
					break
				}
				key(kb.ArrowRight)
				b.await("another question", "document.querySelector('#lesson h2').textContent !== "+quote(asked))
			}
			took += time.Duration(words) * time.Minute / wordsPerMinute
			t.Logf("%d questions, %d keys, %d words: %.1f minutes", questions, keys, words, took.Minutes())
			if took > 10*time.Minute || took < 4*time.Minute {
				t.Errorf("the lesson takes %.1f minutes", took.Minutes())
			}
			key(kb.Escape)
			b.await("the class is over", "!document.querySelector('#lesson[open]')")
		})
	}
}
