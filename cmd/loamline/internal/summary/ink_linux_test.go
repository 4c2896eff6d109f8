package summary

import (
	"os"
	"testing"

	"loamline.example/cmd/loamline/internal/ptytest"
)

// Colour is on a terminal that takes it, and nowhere else: NO_COLOR and a dumb terminal
// turn it off.
func TestInkOnATerminal(t *testing.T) {
	_, user := ptytest.Open(t)
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

// A terminal gets lines that are broken to its width, between words.
func TestLinesFitATerminal(t *testing.T) {
	const text = "  - a sentence that is much wider than the screen of eighty columns, and goes on under its first word\n"
	got := ptytest.Shown(t, func(user *os.File) { Write(user, text) }) // of 80 columns
	if want := "  - a sentence that is much wider than the screen of eighty columns, and goes on\r\n    under its first word\r\n"; got != want {
		t.Errorf("got %q", got)
	}
}
