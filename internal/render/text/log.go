package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/internal/chart"
)

// Log prints what a log holds: its channels, what is not clear, traps, events, and what the
// logger could not have seen.
func Log(w io.Writer, x *chart.Log, opt Options) error {
	p := newPage(opt)
	p.para("", Clean(x.About()))
	p.heading("CHANNELS")
	p.logChannels(x)
	if len(x.Notes) > 0 {
		p.gap()
		for _, n := range x.Notes {
			p.item(faint, "", "-", Clean(n))
		}
	}
	if len(x.Questions) > 0 {
		p.heading("NOT CLEAR: answer in the map")
		for _, q := range x.Questions {
			p.item(amber, "", "?", Clean(fmt.Sprintf("%s Taken: %s. Set %s to one of: %s.", q.Text, q.Taken, q.Key,
				strings.Join(q.Choices, "; "))))
		}
	}
	if len(x.Traps) > 0 {
		p.heading("DATA TRAPS")
		for _, t := range x.Traps {
			p.item(rust, "", "!", Clean(t.Text+" "+t.Act))
		}
	}
	p.logSwitches(x)
	for i := range x.Traces {
		p.logTrace(x, &x.Traces[i])
	}
	p.logSiblings(x)
	p.heading("CAUTIONS")
	p.para("", chart.LogCautions)
	return p.flush(w)
}

func (p *page) logChannels(x *chart.Log) {
	t := &table{indent: "  "}
	for i, head := range chart.ChannelHeads() {
		t.cols = append(t.cols, column{head: head, gives: i == 0, right: i > 2})
	}
	for i := range x.Channels {
		cells := x.Channels[i].Words()
		cells[0], cells[2] = Clean(cells[0]), Clean(cells[2])
		t.add(cells...)
	}
	p.table(t)
}

func (p *page) logSwitches(x *chart.Log) {
	if len(x.Switches) == 0 {
		return
	}
	p.heading("STARTS AND STOPS")
	p.para("", x.SwitchesSaid())
	for i, op := range x.Switches {
		if i == chart.MostSaid {
			p.more(len(x.Switches) - i)
			break
		}
		p.put("  " + x.When(op.AtNS) + "  " + chart.OperationWords(op))
	}
}

// more says how many are not printed.
func (p *page) more(n int) { p.paraIn(faint, "", fmt.Sprintf("and %d more, in --json", n)) }

func (p *page) logTrace(x *chart.Log, t *chart.LogTrace) {
	p.heading("EVENTS IN " + strings.ToUpper(Clean(t.Channel)))
	for _, said := range x.TraceSaid(t, p.opt.Units) {
		p.para("", said)
	}
	for i := range t.Slams {
		if i == chart.MostSaid {
			p.more(len(t.Slams) - i)
			break
		}
		p.item(rust, "", "!", x.SlamSaid(&t.Slams[i], p.opt.Units))
	}
	for _, r := range x.OtherSaid(t, p.opt.Units) {
		if r.Harm {
			p.item(rust, "", "!", r.Text)
		} else {
			p.item(amber, "", "~", r.Text)
		}
	}
	for _, said := range t.ClippedSaid(p.opt.Units) {
		p.item(amber, "", "!", said)
	}
	p.gap()
	for i, said := range t.UnseenSaid(p.opt.Units) {
		if i == 0 {
			p.paraIn(strong, "", said)
		} else {
			p.para("", said)
		}
	}
}
