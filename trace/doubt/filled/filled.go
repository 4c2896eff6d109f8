// Package filled finds positions one of whose two figures was filled in by a table and
// not measured: carried down a column as it stood, or counted up by one and the same
// amount, while the other figure goes on.
package filled

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/doubt"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
)

// Run is readings of a line in a row one of whose figures was filled in.
type Run struct {
	Line           string
	File           int32
	FromRow, ToRow int32 // both included
	N              int
	Figure         remark.Figure
	Series         bool // counted up, not carried down
}

// When a figure was filled in (judgement, but for what is derived).
const (
	leastRun    = 4    // that follow from those before them
	leastOnM    = 1.0  // walked meanwhile by the other figure: who stands still repeats both
	chance      = 1e-4 // how seldom a table's own scatter would make such a run anywhere
	leastOthers = 6    // that do not follow, so that their scatter is known
	// By how much neighbours scatter beside the way between them, one sigma: half a
	// centimetre is less than a hand holds an antenna to, a centimetre what an RTK fix is
	// good for by itself. A walk that turns seems to scatter by more, and its straight
	// stretches do not.
	usualScatterM, mostScatterM = 0.005, 0.01

	perDegM      = math.Pi / 180 * 6371000 // of latitude; the mean radius from memory
	degreeFigure = 1e-9                    // the finest that is written, in degrees,
	gridFigure   = 1e-4                    // and in metres or feet
	arithmetic   = 1e-2                    // of those, what a double loses of a difference; bound of the arithmetic
	finestM      = 0.001                   // what figures without a step of their own are taken to be written to
)

// Places finds the runs of each line in each file, in the order of its rows. It is for
// figures as they were written: before anything is moved to another frame.
func Places(rs []trace.Reading, rounds rounding.Files) []Run {
	type column struct {
		file int32
		line string
	}
	var order []column
	rows := map[column][]*trace.Reading{}
	for i := range rs {
		r := &rs[i]
		if r.Status != "" || r.Exposed {
			continue
		}
		c := column{r.File, r.Line}
		if rows[c] == nil {
			order = append(order, c)
		}
		rows[c] = append(rows[c], r)
	}
	var out []Run
	for _, c := range order {
		out = append(out, ofColumn(rows[c], rounds)...)
	}
	return out
}

// axis is one of the two figures of the positions of a column.
type axis struct {
	figure remark.Figure
	v      []float64 // as written
	unitM  float64   // metres of one of them
	tol    float64   // by how much differences that were written the same may differ
	stepM  func(r *trace.Reading) float64
}

func ofColumn(rs []*trace.Reading, rounds rounding.Files) []Run {
	if len(rs) < leastRun+2 {
		return nil
	}
	degrees := trace.Known(rs[0].Geographic.LonDeg) && trace.Known(rs[0].Geographic.LatDeg)
	figures := func(r *trace.Reading) (x, y float64) {
		if degrees {
			return r.Geographic.LonDeg, r.Geographic.LatDeg
		}
		return r.Projected[0], r.Projected[1]
	}
	x := axis{figure: remark.Easting, unitM: 1, tol: gridFigure * arithmetic, stepM: func(r *trace.Reading) float64 { return rounds.Of(r).EastM }}
	y := axis{figure: remark.Northing, unitM: 1, tol: gridFigure * arithmetic, stepM: func(r *trace.Reading) float64 { return rounds.Of(r).NorthM }}
	if degrees {
		x.figure, x.unitM, x.tol = remark.Longitude, perDegM*math.Cos(rs[0].Geographic.LatDeg*math.Pi/180), degreeFigure*arithmetic
		y.figure, y.unitM, y.tol = remark.Latitude, perDegM, degreeFigure*arithmetic
	}
	// Of rows at one place the first: who stands still repeats both figures.
	var kept []*trace.Reading
	for _, r := range rs {
		e, n := figures(r)
		if !trace.Known(e) || !trace.Known(n) || len(kept) > 0 && e == x.v[len(kept)-1] && n == y.v[len(kept)-1] {
			continue
		}
		kept, x.v, y.v = append(kept, r), append(x.v, e), append(y.v, n)
	}
	if !written(x, degrees) || !written(y, degrees) {
		return nil
	}
	return slices.Concat(runsOf(kept, y, x, false), runsOf(kept, y, x, true), runsOf(kept, x, y, false), runsOf(kept, x, y, true))
}

// written reports whether figures are such as a table has them, with an end: those that
// were computed to the last bit follow from each other by their making.
func written(a axis, degrees bool) bool {
	figure, units := degreeFigure, []float64{1}
	if !degrees {
		figure, units = gridFigure, []float64{1, geo.FootM, geo.USSurveyFootM}
	}
	return slices.ContainsFunc(units, func(unit float64) bool {
		return !slices.ContainsFunc(a.v, func(v float64) bool {
			n := v / unit / figure
			return math.Abs(n-math.Round(n)) > 0.05 // judgement: a double has figures to a thousandth of one here
		})
	})
}

// runsOf are the runs along which own follows from the rows before it and other goes on.
func runsOf(rs []*trace.Reading, own, other axis, series bool) []Run {
	follows := make([]bool, len(rs))
	first, spread := 1, math.Sqrt2 // derived: sigmas of a difference between two of a few,
	if series {
		first, spread = 2, 1 // and of a figure from the line of many before it
	}
	second := make([]float64, len(rs))
	for i := 1; i < len(rs); i++ {
		step := own.v[i] - own.v[i-1]
		if i > 1 {
			second[i] = math.Abs(step - (own.v[i-1] - own.v[i-2]))
		}
		follows[i] = !series && step == 0 || series && i > 1 && step != 0 && second[i] <= own.tol
	}
	var out []Run
	for from := first; from < len(rs); from++ {
		to := from
		for to < len(rs) && follows[to] {
			to++
		}
		if n := to - from; n >= leastRun && math.Abs(other.v[to-1]-other.v[from-1])*other.unitM >= leastOnM && !(series && evenly(other, from, to)) {
			each := math.Max(alikeElsewhere(follows[first:], n), alikeByFigures(rs[from:to], own, spread*scatterM(second, from, to, own.unitM)))
			if float64(len(rs))*math.Pow(each, float64(n)) < chance {
				out = append(out, Run{rs[from].Line, rs[from].File, rs[from].Row, rs[to-1].Row, n, own.figure, series})
			}
		}
		from = max(from, to)
	}
	return out
}

// evenly reports whether most of the rows of a run lie evenly in a figure: a walk that was
// computed in both is told elsewhere, and one that no instrument took is not judged.
func evenly(a axis, from, to int) bool {
	n := 0
	for i := from; i < to; i++ {
		if math.Abs(a.v[i]-2*a.v[i-1]+a.v[i-2]) <= a.tol {
			n++
		}
	}
	return 2*n > to-from
}

// alikeElsewhere is how often figures follow from those before them out of a run of n:
// with one of either kind more, so that neither is sure. It is 0 where too few are left.
func alikeElsewhere(follows []bool, n int) float64 {
	alike := -n
	for _, f := range follows {
		if f {
			alike++
		}
	}
	if others := len(follows) - n; others >= leastOthers {
		return float64(alike+1) / float64(others+2)
	}
	return 0
}

// scatterM is by how much figures scatter that are not of a run, one sigma, by how unevenly
// they follow each other.
func scatterM(second []float64, from, to int, unitM float64) float64 {
	others := slices.Concat(second[min(2, from):from], second[to:])
	if len(others) < leastOthers {
		return usualScatterM
	}
	// A second difference has 1 + 4 + 1 times the variance of a figure (derived).
	return math.Min(mostScatterM, ranked.NormalSigma*ranked.Median(others)*unitM/math.Sqrt(6))
}

// alikeByFigures is how often figures follow by chance that scatter by a sigma and were
// written to a step, as the normal density has it at no difference. It is 1 where the step
// hides the scatter.
func alikeByFigures(rs []*trace.Reading, own axis, sigmaM float64) float64 {
	stepM := finestM
	for _, r := range rs {
		stepM = math.Max(stepM, own.stepM(r))
	}
	if stepM > sigmaM {
		return 1
	}
	return stepM / (math.Sqrt(2*math.Pi) * sigmaM)
}

// Doubts are those about the runs on a drawn line, from the last measured reading before
// one to the first behind it.
func Doubts(l *trace.Line, runs []Run) (found []trace.Finding) {
	for _, run := range runs {
		if run.Line == l.Setup.Name && l.Centerline != nil {
			found = append(found, doubtOf(l, run))
		}
	}
	return found
}

func doubtOf(l *trace.Line, run Run) trace.Finding {
	var first, last int32 // rows of the neighbours
	for i := range l.Readings {
		if r := &l.Readings[i]; r.File == run.File && r.Placed() {
			if r.Row < run.FromRow {
				first = max(first, r.Row)
			}
			if r.Row > run.ToRow && (last == 0 || r.Row < last) {
				last = r.Row
			}
		}
	}
	if first == 0 {
		first = run.FromRow
	}
	var over []*trace.Reading
	for i := range l.Readings {
		if r := &l.Readings[i]; r.File == run.File && r.Row >= first && r.Row <= max(last, run.ToRow) && r.Placed() {
			over = append(over, r)
		}
	}
	return doubt.Over(l, over, over, remark.PlacesFilled{N: run.N, FromRow: run.FromRow, ToRow: run.ToRow, Figure: run.Figure, Series: run.Series})
}
