package jobs

import (
	"bytes"
	"io"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// Place is roughly where a table's readings lie: degrees as the file has them,
// or metres of a grid that the file does not name.
type Place struct {
	Grid bool    `json:"grid,omitempty"`
	X    float64 `json:"x"` // longitude, or easting
	Y    float64 `json:"y"` // latitude, or northing
}

// nearM is how far from where it was given an answer is offered again: the
// reach of a day's work from one office.
const nearM = 50_000.0

// degreeM is the length of a degree of latitude, good enough for nearM.
const degreeM = 111_000.0

// near reports whether two places are close to each other; an unknown one is
// close to nothing.
func (p *Place) near(o *Place) bool {
	if p == nil || o == nil || p.Grid != o.Grid {
		return false
	}
	dx, dy := p.X-o.X, p.Y-o.Y
	if !p.Grid {
		dx = math.Remainder(dx, 360) * degreeM * math.Cos((p.Y+o.Y)/2*math.Pi/180)
		dy *= degreeM
	}
	return math.Hypot(dx, dy) <= nearM
}

// placeBytes is how much of a table is read to learn where it lies.
const placeBytes = 64 << 10

// placeOfTable reads the first rows of a table with a column map, nil where they
// have no position.
func placeOfTable(file intake.File, columns map[string]string) *Place {
	r, err := file.Open()
	if err != nil {
		return nil
	}
	defer r.Close()
	head, err := io.ReadAll(io.LimitReader(r, placeBytes))
	if err != nil {
		return nil
	}
	if i := bytes.LastIndexByte(head, '\n'); i >= 0 && len(head) == placeBytes {
		head = head[:i+1]
	}
	t, err := intake.ReadTable(bytes.NewReader(head), file.Name, 0, intake.TableOptions{Columns: columns})
	if err != nil {
		return nil
	}
	var xs, ys []float64
	grid := false
	for i := range t.Readings {
		at := &t.Readings[i]
		x, y := at.Geographic.LonDeg, at.Geographic.LatDeg
		if !trace.Known(x) || !trace.Known(y) {
			x, y, grid = at.Projected[0], at.Projected[1], true
		}
		if trace.Known(x) && trace.Known(y) && (x != 0 || y != 0) {
			xs, ys = append(xs, x), append(ys, y)
		}
	}
	if len(xs) == 0 {
		return nil
	}
	slices.Sort(xs)
	slices.Sort(ys)
	return &Place{grid, xs[len(xs)/2], ys[len(ys)/2]}
}
