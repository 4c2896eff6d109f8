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
