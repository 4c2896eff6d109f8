package page

import (
	"errors"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
)

// A page whose writer takes nothing any more ends at the line in hand, with nothing
// written: it is asked with nothing before every line, of plan and of lists.
func TestPageStops(t *testing.T) {
	s := sample.Sheet()
	whole := &check.Patient{Asks: 1 << 30}
	if err := Write(whole, s, Options{}); err != nil || whole.Asked != 2*len(s.Lines) {
		t.Fatalf("%v; asked %d times about %d lines", err, whole.Asked, len(s.Lines))
	}
	for n := range whole.Asked {
		p := &check.Patient{Asks: n}
		if err := Write(p, s, Options{}); !errors.Is(err, check.ErrStopped) || p.Asked != n+1 || p.Given > 0 {
			t.Errorf("stopped at ask %d: %v, asked %d times, given %d bytes", n+1, err, p.Asked, p.Given)
		}
	}
}
