package bleed

import (
	"testing"

	"loamline.example/trace"
)

// A line may turn aside for reasons of its own: marks alone are no sign of another's signal.
// Depth, signal and null must say so too, or the marks must clearly step aside within the
// window beside a line that is drawn, and step back, while the others do not say no.
func TestMarksAloneAreNoSign(t *testing.T) {
	col := &columns{rd: make([]reading, 101)}
	for k := range col.rd {
		col.rd[k] = reading{Reading: trace.Reading{StationM: float64(k)}}
	}
	for _, c := range []struct {
		name        string
		drawn       bool
		fromM, toM  float64
		ds, n, pos  float64
		share, sdev float64
		want        bool
	}{
		{"marks alone", false, 30, 60, 0, 0, 50, 0.4, 0.05, false},
		{"depth and signal", false, 30, 60, 4, 0, 0, 0.4, 0.05, true},
		{"depth and null between them", false, 30, 60, 2, 2, 0, 0.4, 0.05, true},
		{"marks beside a drawn line, within", true, 30, 60, 0, 0, 50, 0.4, 0.05, true},
		{"marks beside a drawn line, a little", true, 30, 60, 0, 0, 5, 0.4, 0.05, false},
		{"marks beside a drawn line, to the window's end", true, 30, 99, 0, 0, 50, 0.4, 0.05, false},
		{"marks beside a drawn line, and depth says no", true, 30, 60, -6, 0, 50, 0.4, 0.05, false},
		{"to the window's end, with a share that is sure", false, 30, 99, 5, 0, 0, 0.4, 0.05, true},
		{"to the window's end, with none that is", false, 30, 99, 5, 0, 0, 0.05, 0.05, false},
	} {
		f := coupledFit{c: &coupler{col: col, hi: len(col.rd)}, fitted: fitted{ds: c.ds, n: c.n, pos: c.pos}}
		f.p[pFrom], f.p[pTo], f.p[pShare], f.cov[pShare][pShare] = c.fromM, c.toM, c.share, c.sdev*c.sdev
		if c.drawn {
			f.c.e.at = make([]neighbourAt, len(col.rd))
		}
		if got := f.besidePosition(); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
