package text

import (
	"io"

	"seatward/rules"
)

// Packs sets rule packs side by side, topic by topic, with the numbers that differ.
func Packs(w io.Writer, packs []rules.Pack, opt Options) error {
	p := newPage(opt)
	p.heading("Rule packs")
	for i := range packs {
		pack := &packs[i]
		p.put("  " + p.paint(strong, p.fit(pack.ID, 24)))
		p.para("    ", sentenceEnd(pack.Title))
	}
	p.para("  ", "A station file names those that bind: rule_packs: ["+packs[0].ID+"].")
	for _, t := range rules.Topics(packs) {
		title := sentenceStart(t.Name)
		if t.Spread {
			title += " (they differ)"
		}
		p.heading(title)
		for _, s := range t.Says {
			lead := s.Rule.Text
			if s.Rule.Value.Known() {
				lead = s.Rule.Bound + " " + p.val(s.Rule.Value) + ". " + lead
			}
			p.para("  ", s.Pack.Title+": "+lead)
			p.paraIn(faint, "      ", sentenceEnd(s.Pack.Where(s.Rule)))
		}
	}
	return p.flush(w)
}
