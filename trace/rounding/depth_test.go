package rounding

import (
	"math"
	"testing"

	"loamline.example/trace"
)

func depths(shown ...float64) []trace.Reading {
	var rs []trace.Reading
	for i, d := range shown {
		r := trace.NewReading()
		r.Row, r.DepthM = int32(i+2), d
		rs = append(rs, r)
	}
	return rs
}

// A line of two readings has no step of its own; the other lines of its table tell it
// where it lies on theirs. What an open line measured is no figure of a display.
func TestDepthStepOfALine(t *testing.T) {
	long, short, fine := depths(1, 1, 1.5, 1, 1, 1, 1.5), depths(1, 1), depths(1.02, 1)
	exposed := depths(1, 1.5, 1, 1, 1, 1.07)
	exposed[5].Exposed = true
	spike := depths(1, 1, 1, 1, 1, 1, 0.5)
	spike[6].DepthDropped = true
	for _, c := range []struct {
		what  string
		of    []trace.Reading
		with  []trace.Reading // of the same table
		stepM float64
	}{
		{"a line", long, nil, 0.5},
		{"two readings alone", short, nil, 0},
		{"two readings beside it", short, long, 0.5},
		{"finer ones beside it", fine, long, 0},
		{"with an exposure", exposed, nil, 0.5},
		{"with a depth that was left out", spike, nil, 0.5},
	} {
		files := Find(append(append([]trace.Reading{}, c.of...), c.with...), 1)
		if got := files.DepthStepM(c.of); math.Abs(got-c.stepM) > 1e-9 {
			t.Errorf("%s: step %g m, want %g", c.what, got, c.stepM)
		}
	}
}
