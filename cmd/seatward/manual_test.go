package main

import (
	"strings"
	"testing"
)

// TestManual: every command's page has the parts that a manual page has, says what help
// says, and holds no line that is read as a macro by mistake.
func TestManual(t *testing.T) {
	for _, c := range commands() {
		page := manualPage(c)
		for _, part := range []string{
			".TH ", ".SH NAME\n", ".SH SYNOPSIS\n.B seatward", ".SH DESCRIPTION\n.PP\n",
			".SH EXAMPLE\n.nf\nseatward ", ".SH EXIT STATUS\n.TP\n.B 0\n",
		} {
			if !strings.Contains(page, part) {
				t.Errorf("the manual page of %s has no %q", c.CommandPath(), part)
			}
		}
		for _, f := range flags(c) {
			if !strings.Contains(page, ".B "+roff(strings.TrimSpace(f.lead))+"\n"+roff(f.usage)+"\n") {
				t.Errorf("the manual page of %s leaves out %s", c.CommandPath(), f.lead)
			}
		}
		for _, l := range strings.Split(page, "\n") {
			macro, _, _ := strings.Cut(l, " ")
			if strings.HasPrefix(l, ".") && !strings.Contains(" .TH .SH .PP .TP .B .BR .nf .fi ", " "+macro+" ") {
				t.Errorf("the manual page of %s has a line that reads as a macro: %s", c.CommandPath(), l)
			}
		}
	}
}

func TestRoff(t *testing.T) {
	if got, want := roff("a-b\\c\n.d\n'e"), "a\\-b\\ec\n\\&.d\n\\&'e"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
