package tables

import (
	"bytes"
	"io"
	"slices"
	"time"

	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// whenAndWhere notes the days of the readings, and the box about those that have
// degrees.
func (v *TableView) whenAndWhere(readings []trace.Reading) {
	v.FirstDay, v.LastDay = "", ""
	var at []geo.LonLat
	for i := range readings {
		r := &readings[i]
		if !r.Time.IsZero() {
			d := r.Time.Format(time.DateOnly)
			if v.FirstDay == "" || d < v.FirstDay {
				v.FirstDay = d
			}
			v.LastDay = max(v.LastDay, d)
		}
		if p := r.Geographic; p.Valid() && (p.LonDeg != 0 || p.LatDeg != 0) {
			at = append(at, p)
		}
	}
	v.Box = whereabouts.BoxAbout(at)
}

// placeBytes is how much of a table is read to learn where it lies.
const placeBytes = 64 << 10

// PlaceOf reads the first rows of a table with a column map, nil where they
// have no position.
func PlaceOf(file intake.File, columns map[string]string) *whereabouts.Place {
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
	return &whereabouts.Place{Grid: grid, X: xs[len(xs)/2], Y: ys[len(ys)/2]}
}
