package export

import (
	"io"
	"testing"

	"loamline.example/export/geojson"
	"loamline.example/export/internal/sample"
	"loamline.example/export/kml"
	"loamline.example/trace"
)

// pieces counts what is written, and the largest piece of it.
type pieces struct{ all, largest int }

// Write implements io.Writer.
func (p *pieces) Write(b []byte) (int, error) {
	p.all += len(b)
	p.largest = max(p.largest, len(b))
	return len(b), nil
}

// GeoJSON and KML are written as they are made: of a map of many megabytes no piece
// is larger than some features.
func TestFormatsAreWrittenAsTheyAreMade(t *testing.T) {
	s := sample.EveryKind()
	lines := s.Lines
	for len(s.Lines) < 400 {
		s.Lines = append(s.Lines, lines...)
	}
	for name, write := range map[string]func(io.Writer, *trace.Sheet) error{"GeoJSON": geojson.Write, "KML": kml.Write} {
		var p pieces
		if err := write(&p, s); err != nil {
			t.Fatal(err)
		}
		if p.all < 4<<20 || p.largest > 256<<10 {
			t.Errorf("%s: %d bytes, in pieces of up to %d", name, p.all, p.largest)
		}
	}
}
