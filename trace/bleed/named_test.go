package bleed

import "testing"

// drawnAt is a drawn line at one signed distance from five marks over a line one
// metre deep.
func drawnAt(name string, asideM float64) neighbour {
	e := neighbour{name: name, at: make([]neighbourAt, 5)}
	for k := range e.at {
		e.at[k] = neighbourAt{asideM: asideM, depthM: 1}
	}
	return e
}

func TestFindingTakesTheNameOfTheLineThatLiesThere(t *testing.T) {
	col := &columns{rd: make([]reading, 5), depth: []float64{1, 1, 1, 1, 1}}
	for _, tt := range []struct {
		name   string
		drawn  []neighbour
		fitted float64
		want   string
	}{
		{"same side and distance", []neighbour{drawnAt("G-1", 0.6)}, 0.94, "G-1"},
		{"the nearer match of two", []neighbour{drawnAt("G-1", 0.45), drawnAt("C-1", 0.9)}, 0.94, "C-1"},
		{"other side", []neighbour{drawnAt("G-1", -0.9)}, 0.94, Unknown},
		{"three times as far", []neighbour{drawnAt("G-1", 2.9)}, 0.94, Unknown},
		{"nothing drawn", nil, 0.94, Unknown},
	} {
		f := finding{coupledFit: coupledFit{c: &coupler{col: col}, fitted: fitted{n: 2 * leastSide}}, from: 0, to: 4, name: Unknown, fittedAsideM: tt.fitted}
		if got := f.named(append(tt.drawn, neighbour{name: Unknown})); got.name != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got.name, tt.want)
		}
	}
}

// Depth and signal alone read the same with the neighbour on either side: a
// drawn line tells the side, and without one none is told.
func TestSideThatNothingTells(t *testing.T) {
	col := &columns{rd: make([]reading, 5), depth: []float64{1, 1, 1, 1, 1}}
	f := finding{coupledFit: coupledFit{c: &coupler{col: col}}, from: 0, to: 4, name: Unknown, fittedAsideM: 0.94}
	got := f.named([]neighbour{drawnAt("G-1", -0.8), {name: Unknown}})
	if got.name != "G-1" || !got.mirrored || !got.sideKnown() {
		t.Errorf("a drawn line on the left: %q, mirrored %t", got.name, got.mirrored)
	}
	got = f.named([]neighbour{drawnAt("G-1", -2.6), {name: Unknown}})
	if got.name != Unknown || got.sideKnown() || got.nearName != "G-1" || got.nearAsideM != -2.6 {
		t.Errorf("a drawn line far away: %q, side told %t, near %q at %g", got.name, got.sideKnown(), got.nearName, got.nearAsideM)
	}
}
