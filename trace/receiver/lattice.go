package receiver

import "math"

// DegreeSteps returns the steps, in degrees, on which longitudes and latitudes lie:
// of their decimals as they were written, or coarser ones that the figures had before
// they were turned into decimal degrees: decimals of a minute or of a second, as GNSS
// sentences and record sheets have them, or single precision (IEEE 754), whose 24 bits
// hold no more than 0.4 m of a latitude and 0.8 m of a longitude.
// They are 0 where no step shows.
func DegreeSteps(lon, lat []float64) (lonStep, latStep float64) {
	written := Step(lon, lat)
	lonStep, latStep = written, written
	off := math.Max(written, finestWritten)
	columns := [][]float64{lon, lat}
	for _, unit := range []float64{1.0 / 60, 1.0 / 3600} { // derived: minutes and seconds of a degree
		for k := range finestDecimals {
			step := unit * math.Pow10(-k)
			if step <= latStep {
				break
			}
			if nearLattice(columns, step, off) && noChance(columns, off/step) {
				lonStep, latStep = step, step
				break
			}
		}
	}
	if a, b := singleStep(lon), singleStep(lat); b > latStep && areSingle(lon, off) && areSingle(lat, off) &&
		noChance(columns, off/math.Min(a, b)) {
		lonStep, latStep = a, b
	}
	return lonStep, latStep
}

// finestWritten is what a figure without a step of its own is written to, in degrees.
// Judgement.
const finestWritten = 2e-9 // the ninth decimal, and a little

// byChance is how seldom figures may lie on a lattice by chance and be held to lie on
// it by their making. Judgement.
const byChance = 1e-6

// noChance reports whether so many different values are no chance where each lies on a
// lattice with some probability.
func noChance(columns [][]float64, each float64) bool {
	if each >= 0.5 || different(columns) < 3 {
		return false
	}
	return math.Pow(each, float64(differing(columns))) < byChance
}

// nearLattice reports whether all values lie on a step as well as figures that were
// written to another one can.
func nearLattice(columns [][]float64, step, written float64) bool {
	for _, c := range columns {
		for _, v := range c {
			if n := v / step; math.Abs(n-math.Round(n))*step > 0.5*written*(1+1e-6) {
				return false
			}
		}
	}
	return true
}

func areSingle(values []float64, written float64) bool {
	for _, v := range values {
		if math.Abs(v-float64(float32(v))) > 0.5*written*(1+1e-6) {
			return false
		}
	}
	return true
}

// singleStep is how far apart numbers of single precision lie at the largest of some.
func singleStep(values []float64) float64 {
	most := 0.0
	for _, v := range values {
		most = math.Max(most, math.Abs(v))
	}
	_, exp := math.Frexp(most)   // most = f 2^exp with f in [½, 1), of 24 bits
	return math.Ldexp(1, exp-24) // derived
}

// coarsestPower is the coarsest step of a column by itself, as a power of ten: what is
// written as 4.88602e+06 goes down to tens, and beyond hundreds nothing is left of a street
// (judgement).
const coarsestPower = 2

// columnParts are the parts of a decimal step that figures are rounded to (judgement).
var columnParts = []float64{1, 2, 5}

// CoarserColumn is the coarsest step of decimals, of their halves and fifths, or of single
// precision on which all values of one column lie though those of the column beside it go
// down to a finer one, where that is no chance; 0 where there is none.
func CoarserColumn(column []float64, finer float64) float64 {
	columns := [][]float64{column}
	values := differing(columns)
	if values < 2 || evenlySpaced(column) {
		return 0 // a line along the grid, or paces along it that were written down
	}
	coarser := func(step float64) bool {
		return step > finer*(1+ungridded) && math.Pow(finer/step, float64(values)) < byChance && onLattice(columns, step)
	}
	for k := coarsestPower; k >= -finestDecimals; k-- {
		for _, part := range columnParts {
			if step := math.Pow10(k) / part; coarser(step) {
				return step
			}
		}
	}
	if step := singleStep(column); coarser(step) {
		return step
	}
	return 0
}

// evenlySpaced reports whether all values follow each other at one and the same distance.
func evenlySpaced(column []float64) bool {
	for i := 2; i < len(column); i++ {
		if math.Abs(column[i]-2*column[i-1]+column[i-2]) > ungridded*(1+math.Abs(column[i])) {
			return false
		}
	}
	return true
}

// Rows are those from one on, up to another and without it.
type Rows struct{ From, To int }

// CoarserRows returns the runs of rows whose values lie on a step although those of
// the others go down to a finer one: a part of a table that was rounded by itself.
// Columns belong together as in [Step], and are as long as each other.
func CoarserRows(step, finer float64, columns ...[]float64) []Rows {
	var out []Rows
	if len(columns) == 0 {
		return nil
	}
	n := len(columns[0])
	for from := 0; from < n; from++ {
		to := from
		for to < n && rowOnLattice(columns, to, step) {
			to++
		}
		// Any row may begin a run: the odds are those of all of them.
		if run := rowsOf(columns, from, to); to > from && to-from < n && different(run) >= 3 && float64(n)*math.Pow(finer/step, float64(differing(run))) < byChance {
			out = append(out, Rows{from, to})
		}
		from = max(from, to-1)
	}
	return out
}

func rowOnLattice(columns [][]float64, row int, step float64) bool {
	for _, c := range columns {
		if !onStep(c[row], step) {
			return false
		}
	}
	return true
}

func rowsOf(columns [][]float64, from, to int) [][]float64 {
	out := make([][]float64, len(columns))
	for k, c := range columns {
		out[k] = c[from:to]
	}
	return out
}

// differing is how many different values there are, column by column.
func differing(columns [][]float64) int {
	n := 0
	for _, c := range columns {
		seen := make(map[float64]bool, len(c))
		for _, v := range c {
			seen[v] = true
		}
		n += len(seen)
	}
	return n
}
