package intake

import (
	"fmt"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// feetOf are the grid's unit, the suffix of columns in it, and its words.
var feetOf = map[string]struct{ suffix, words, other string }{
	"ft":   {"_ft", "international feet", "_usft"},
	"ftUS": {"_usft", "US survey feet", "_ft"},
}

// checkFeet refuses eastings and northings in the other kind of foot than their
// grid's: the two differ by 2 ppm, which is more than a metre at the eastings of
// a State Plane zone, and nothing in the file shows it. Who is sure names the
// column in the column map, and is told.
func checkFeet(file string, job trace.Job, columns []TableColumn) (warnings []trace.Problem, err error) {
	crs, err := geo.LookupCRS(job.CRS)
	if err != nil {
		return nil, nil // told where the frame is made
	}
	grid, ok := feetOf[crs.Unit]
	if !ok {
		return nil, nil
	}
	for _, c := range columns {
		axis, foot := strings.CutSuffix(c.Name, grid.other)
		if !foot || axis != "east" && axis != "north" {
			continue
		}
		p := trace.Problem{File: file, Row: c.Row, Column: c.Column, Field: c.Header,
			Cause: fmt.Sprintf("%s (%s) is in %s, and this column says the other kind of foot: at its coordinates they differ by a metre or more", crs.ID(), crs.Name, grid.words)}
		if _, sure := job.Columns[c.Name]; sure {
			p.Warn, p.Hint = true, "the column map says so and it was taken so; measure a known point to be sure"
			p.Check = remark.OtherFoot{Header: c.Header, CRS: crs.ID()}
			warnings = append(warnings, p)
			continue
		}
		p.Hint = fmt.Sprintf("name it %s%s; if it is the other foot all the same, say so under [columns]: %s = %q", axis, grid.suffix, c.Name, c.Header)
		return nil, &p
	}
	return warnings, nil
}
