package pdf

import (
	"errors"
	"testing"

	"loamline/export/internal/sample"
)

// stopped is a writer that takes nothing any more; it notes what it was first
// asked to take.
type stopped struct{ first int }

var errStopped = errors.New("stopped")

func (s *stopped) Write(p []byte) (int, error) {
	if s.first < 0 {
		s.first = len(p)
	}
	return 0, errStopped
}

// A drawing whose writer takes nothing any more ends before it is drawn: it is
// asked with nothing before every sheet.
func TestPDFStops(t *testing.T) {
	w := &stopped{first: -1}
	if err := Write(w, sample.EveryKind(), Options{}); !errors.Is(err, errStopped) || w.first != 0 {
		t.Errorf("%v, and the first write was of %d bytes", err, w.first)
	}
}

// patient is a writer that takes nothing after being asked so many times.
type patient struct{ asks, asked, given int }

func (p *patient) Write(b []byte) (int, error) {
	if p.given += len(b); len(b) == 0 {
		p.asked++
	}
	if p.asked > p.asks {
		return 0, errStopped
	}
	return len(b), nil
}

// Wherever the drawing is, it ends at once, with nothing written: it asks before every
// sheet, every layer of a plan, every row of a table and every paragraph of the notes.
func TestPDFStopsWhereverItIs(t *testing.T) {
	s := sample.EveryKind()
	whole := &patient{asks: 1 << 30}
	if err := Write(whole, s, Options{}); err != nil || whole.given == 0 {
		t.Fatal(err)
	}
	if whole.asked < 100 {
		t.Errorf("it asks only %d times on the way", whole.asked)
	}
	for n := 0; n < whole.asked; n += 1 + whole.asked/40 {
		p := &patient{asks: n}
		if err := Write(p, s, Options{}); !errors.Is(err, errStopped) || p.asked != n+1 || p.given > 0 {
			t.Errorf("stopped at ask %d of %d: %v, asked %d times, given %d bytes", n+1, whole.asked, err, p.asked, p.given)
		}
	}
}
