package pdf

import (
	"errors"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
)

// A drawing whose writer takes nothing any more ends before it is drawn: it is
// asked with nothing before every sheet.
func TestPDFStops(t *testing.T) {
	w := &check.Patient{}
	if err := Write(w, sample.EveryKind(), Options{}); !errors.Is(err, check.ErrStopped) || w.Asked != 1 || w.Given > 0 {
		t.Errorf("%v, asked %d times, given %d bytes", err, w.Asked, w.Given)
	}
}

// Wherever the drawing is, it ends at once, with nothing written: it asks before every
// sheet, every layer of a plan, every row of a table and every paragraph of the notes.
func TestPDFStopsWhereverItIs(t *testing.T) {
	s := sample.EveryKind()
	whole := &check.Patient{Asks: 1 << 30}
	if err := Write(whole, s, Options{}); err != nil || whole.Given == 0 {
		t.Fatal(err)
	}
	if whole.Asked < 100 {
		t.Errorf("it asks only %d times on the way", whole.Asked)
	}
	for n := 0; n < whole.Asked; n += 1 + whole.Asked/40 {
		p := &check.Patient{Asks: n}
		if err := Write(p, s, Options{}); !errors.Is(err, check.ErrStopped) || p.Asked != n+1 || p.Given > 0 {
			t.Errorf("stopped at ask %d of %d: %v, asked %d times, given %d bytes", n+1, whole.Asked, err, p.Asked, p.Given)
		}
	}
}
