package page

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
)

// A page that is opened when its ticket has lapsed says so in its head; one that is still
// valid, or has no day, says nothing.
func TestLapsedTicketSaysSo(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	for until, want := range map[string]bool{"2001-01-31": true, "9999-12-31": false, "": false} {
		s := sample.Sheet()
		s.Job.ValidUntil = until
		tab := openPage(t, b, "lapsed", s, 360, 740, false)
		got := webtest.Eval[bool](tab, "document.getElementById('late') !== null && document.getElementById('late').checkVisibility()")
		if got != want {
			t.Errorf("%q: said %v", until, got)
		}
		quiet(t, tab)
		tab.Close()
	}
}
