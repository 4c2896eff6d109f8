package placing

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/remark"
)

// Two positions of one row agree to this, beyond the digits that they are
// written with. Judgement.
const (
	agreeM       = 0.10
	mostDecimals = 9
)

// pairs compares the degrees of rows with their eastings and northings, file by
// file. Both are of the job's own frame; where they lie apart, one of them is of
// another frame or of another place, and nobody can tell which.
type pairs struct {
	crs   geo.CRS
	files map[int32]*pairsOfFile
}

type pairsOfFile struct {
	rows          []*trace.Reading
	apartM        []float64
	degrees, grid int // decimals that its numbers are written with, at the most
}

func newPairs(crs geo.CRS) *pairs { return &pairs{crs: crs, files: map[int32]*pairsOfFile{}} }

// add compares a row whose grid position has been brought to degrees.
func (p *pairs) add(r *trace.Reading, grid geo.LonLat) {
	own := r.Geographic
	if math.IsNaN(own.LonDeg) || math.IsNaN(own.LatDeg) {
		return
	}
	f := p.files[r.File]
	if f == nil {
		f = &pairsOfFile{}
		p.files[r.File] = f
	}
	f.rows = append(f.rows, r)
	f.apartM = append(f.apartM, apartM(own, grid))
	f.degrees = max(f.degrees, decimals(own.LatDeg), decimals(own.LonDeg))
	f.grid = max(f.grid, decimals(r.Projected[0]/p.crs.UnitM), decimals(r.Projected[1]/p.crs.UnitM))
}

// apartM is how far two places lie apart, for places of one job. Farther ones
// are only known to be far.
func apartM(a, b geo.LonLat) float64 {
	if !a.Valid() || !b.Valid() {
		return math.Inf(1)
	}
	if km := geo.RoughKm(a, b); km > 10 {
		return km * 1000
	}
	return geo.NewPlane(a).XY(b).Dist(geo.XY{})
}

// decimals is how many decimals a number was written with.
func decimals(v float64) int {
	for d, scale := 0, 1.0; d < mostDecimals; d, scale = d+1, scale*10 {
		if math.Abs(v*scale-math.Round(v*scale)) < 1e-4 {
			return d
		}
	}
	return mostDecimals
}

// judge sets aside the rows whose two positions lie apart, and refuses a file in
// which that is the rule.
func (p *pairs) judge(inputs []trace.Input) ([]clean.Contradiction, error) {
	var out []clean.Contradiction
	for n := range inputs {
		f := p.files[int32(n)]
		if f == nil {
			continue
		}
		const degreeM = 111320.0 // of latitude, on a sphere of the equator's radius: derived
		// Half a step of either figure, in the direction in which both are off most: half the
		// diagonal of a square, rounded up. Derived.
		mayM := agreeM + 0.75*(degreeM*math.Pow(10, -float64(f.degrees))+p.crs.UnitM*math.Pow(10, -float64(f.grid)))
		var apart []int
		for i, d := range f.apartM {
			if d > mayM {
				apart = append(apart, i)
			}
		}
		if len(apart) == 0 {
			continue
		}
		first := apart[0]
		problem := trace.Problem{File: inputs[n].Name, Row: int(f.rows[first].Row), Field: "lat, lon, east, north",
			Cause: fmt.Sprintf("the degrees and the eastings and northings of this row lie %.2f m apart in %s", f.apartM[first], p.crs.ID())}
		if 2*len(apart) >= len(f.rows) {
			problem.Cause += fmt.Sprintf(", and so do those of %d of %d rows", len(apart), len(f.rows))
			problem.Hint = "one pair is in another frame, datum or unit: find out which, and leave the other columns out of the file"
			return nil, &problem
		}
		var lines []string
		of := map[string]int{}
		for _, i := range apart {
			if of[f.rows[i].Line] == 0 {
				lines = append(lines, f.rows[i].Line)
			}
			of[f.rows[i].Line]++
			f.rows[i].SetAside(remark.TwoPositions{ApartM: f.apartM[i]})
		}
		problem.Warn = true
		problem.Cause += fmt.Sprintf("; %s of the file", rowsWords(len(apart)))
		problem.Hint = "they are set aside: nobody can tell which of the two is right; correct the file to use them"
		found := clean.Contradiction{Problem: problem}
		for _, l := range lines {
			found.Advice = append(found.Advice, clean.WholeLine(l, remark.RowsWithTwoPositions{N: of[l]})...)
		}
		out = append(out, found)
	}
	return out, nil
}

func rowsWords(n int) string {
	if n == 1 {
		return "1 row"
	}
	return fmt.Sprintf("%d rows", n)
}
