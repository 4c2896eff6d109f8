package intake

import (
	"fmt"
	"math"
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
func checkFeet(file string, job trace.Job, columns []TableColumn, rs []trace.Reading) (warnings []trace.Problem, err error) {
	crs, err := geo.LookupCRS(job.CRS)
	if err != nil {
		return nil, nil // told where the frame is made
	}
	grid, ok := feetOf[crs.Unit]
	if !ok {
		return feetUnsaid(file, crs, columns, rs), nil
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

// feetApart is by how much of itself a length differs that was taken in the other foot:
// derived, 0.3048 m against 1200/3937 m.
const feetApart = 2e-6

// feetToldM is from what difference it is told: less than most bands. Judgement.
const feetToldM = 0.05

// feetUnsaid tells of positions in feet on a grid that has metres: nothing says which foot
// they were turned into, where its name may be that of either.
func feetUnsaid(file string, crs geo.CRS, columns []TableColumn, rs []trace.Reading) []trace.Problem {
	for _, c := range columns {
		axis, unit, _ := strings.Cut(c.Name, "_")
		if axis != "north" || unit != "ft" && unit != "usft" || c.Filled == 0 {
			continue
		}
		apartM := 0.0
		for i := range rs {
			if p := rs[i].Projected; trace.Known(p[0]) && trace.Known(p[1]) {
				apartM = max(apartM, feetApart*math.Hypot(p[0], p[1]))
			}
		}
		if apartM < feetToldM {
			return nil
		}
		return []trace.Problem{{File: file, Row: c.Row, Column: c.Column, Field: c.Header, Warn: true,
			Cause: fmt.Sprintf("%s (%s) is in metres, and nothing says which foot these were converted to: international and US survey feet lie apart here by more than a band", crs.ID(), crs.Name),
			Hint:  "export the positions in metres, or measure a known point to be sure",
			Check: remark.FootUnsaid{Header: c.Header, CRS: crs.ID(), ApartM: apartM}}}
	}
	return nil
}
