package words

import (
	"math"

	"loamline.example/trace"
)

// Along tells of a line what At does, for those who go along all of it: a line
// with thousands of vertices and findings is looked through once, and not once a
// vertex.
type Along struct {
	l      *trace.Line
	doubts []Doubt
	fromM  float64
	cellM  float64
	cells  [][]int32 // doubts that may be about a stretch
}

// NewAlong prepares a line that was drawn.
func NewAlong(l *trace.Line) *Along {
	a := &Along{l: l, cellM: 1, doubts: doubtsOn(l)}
	if n := len(l.Centerline.Parts); n > 0 {
		a.fromM = l.Centerline.Parts[0].FromM()
		length := l.Centerline.Parts[n-1].ToM() - a.fromM
		if a.cells = make([][]int32, len(a.doubts)+1); length > 0 {
			a.cellM = length / float64(len(a.cells))
		}
	}
	for i, d := range a.doubts {
		from, to := d.stretch()
		if len(a.cells) == 0 || !(from-d.edgeM <= to+d.edgeM) {
			continue
		}
		for c := a.cell(from - d.edgeM); c <= a.cell(to+d.edgeM); c++ {
			a.cells[c] = append(a.cells[c], int32(i))
		}
	}
	return a
}

// cell is the stretch that holds a station; those at the ends hold all beyond.
func (a *Along) cell(stationM float64) int {
	if at := (stationM - a.fromM) / a.cellM; at > 0 {
		return int(math.Min(at, float64(len(a.cells)-1)))
	}
	return 0
}

// At is what may be told at a vertex of the line.
func (a *Along) At(v trace.Vertex) Told {
	var ds []Doubt
	for _, i := range a.cells[a.cell(v.StationM)] {
		if a.doubts[i].holds(v.StationM) {
			ds = append(ds, a.doubts[i])
		}
	}
	return tell(a.l, v, ds)
}
