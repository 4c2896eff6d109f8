package main

import "testing"

// Colour is on a terminal that takes it, and nowhere else: NO_COLOR and a dumb terminal
// turn it off.
func TestInkOnATerminal(t *testing.T) {
	_, user := terminal(t)
	t.Cleanup(func() { user.Close() })
	for _, c := range []struct {
		noColor, term string
		want          ink
	}{{"", "xterm", true}, {"1", "xterm", false}, {"", "dumb", false}} {
		t.Setenv("NO_COLOR", c.noColor)
		t.Setenv("TERM", c.term)
		if got := inkFor(user); got != c.want {
			t.Errorf("NO_COLOR=%q TERM=%q: %v", c.noColor, c.term, got)
		}
	}
}
