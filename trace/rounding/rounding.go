package rounding

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// Step is the step of the figures in which positions were written, as they stand
// (degrees, or metres of a grid) and in metres to the east and to the north; 0 where
// they show none.
type Step struct {
	lonStep, latStep float64
	EastM, NorthM    float64
	grid             bool // the figures are eastings and northings
}

// roundedFile is the step of a file, and of the parts of it that are coarser.
type roundedFile struct {
	Step
	parts      []roundedRows
	depthStepM float64
}

type roundedRows struct {
	from, to int32 // rows of the file, both included
	Step
}

// Files is the step of each file.
type Files []roundedFile

// Of is the step of a reading.
func (k Files) Of(r *trace.Reading) Step {
	if int(r.File) >= len(k) {
		return Step{}
	}
	f := &k[r.File]
	for _, p := range f.parts {
		if r.Row >= p.from && r.Row <= p.to {
			return p.Step
		}
	}
	return f.Step
}

// figures are the positions and the depths of a file as they were written.
type figures struct {
	lon, lat, east, north []float64
	degreeRows, gridRows  []int32
	depths                []float64
}

// Find finds the step of each file from its figures as they were
// written: before anything is moved to another frame.
func Find(rs []trace.Reading, files int) Files {
	all := make([]figures, files)
	for i := range rs {
		r := &rs[i]
		if int(r.File) >= files || r.Status != "" {
			continue
		}
		f := &all[r.File]
		if shownDepth(r) {
			f.depths = append(f.depths, r.DepthM)
		}
		if trace.Known(r.Geographic.LonDeg) && trace.Known(r.Geographic.LatDeg) {
			f.lon, f.lat, f.degreeRows = append(f.lon, r.Geographic.LonDeg), append(f.lat, r.Geographic.LatDeg), append(f.degreeRows, r.Row)
		} else if trace.Known(r.Projected[0]) && trace.Known(r.Projected[1]) {
			f.east, f.north, f.gridRows = append(f.east, r.Projected[0]), append(f.north, r.Projected[1]), append(f.gridRows, r.Row)
		}
	}
	out := make(Files, files)
	for k := range all {
		out[k] = all[k].rounding()
	}
	return out
}

func (f *figures) rounding() roundedFile {
	out := roundedFile{Step: f.steps(), depthStepM: receiver.DepthStep(f.depths)}
	switch {
	case len(f.lon) > 0:
		out.parts = partsOf(coarserDegrees, out.finer(finestDegrees), f.degreeRows,
			func(step float64) Step { return f.inDegrees(step, step) }, f.lon, f.lat)
	case len(f.east) > 0:
		out.parts = partsOf(coarserGridM, out.finer(finestGridM), f.gridRows, ofGrid, f.east, f.north)
	}
	return out
}

// finer is the finer step of the two columns, or what figures without one go down to.
func (r Step) finer(finest float64) float64 {
	return math.Max(math.Min(r.lonStep, r.latStep), finest)
}

// gridUnitsM are the units in which eastings and northings are written (common practice,
// no source).
var gridUnitsM = []float64{1, geo.FootM, usSurveyFootM}

// steps are those of all of the figures, whatever parts of them are coarser. Where one
// of the two columns was rounded by itself, as by the format of a column in a
// spreadsheet, its step is its own.
func (f *figures) steps() Step {
	if len(f.lon) == 0 {
		both := receiver.StepIn(gridUnitsM, f.east, f.north)
		east, north := both, both
		for _, unitM := range gridUnitsM {
			finer := math.Max(both, finestGridM) / unitM
			east = math.Max(east, unitM*receiver.CoarserColumn(scaled(f.east, unitM), finer))
			north = math.Max(north, unitM*receiver.CoarserColumn(scaled(f.north, unitM), finer))
		}
		return Step{east, north, east, north, true}
	}
	lonStep, latStep := receiver.DegreeSteps(f.lon, f.lat)
	finer := math.Max(math.Min(lonStep, latStep), finestDegrees)
	return f.inDegrees(math.Max(lonStep, receiver.CoarserColumn(f.lon, finer)), math.Max(latStep, receiver.CoarserColumn(f.lat, finer)))
}

func scaled(valuesM []float64, unitM float64) []float64 {
	out := make([]float64, len(valuesM))
	for i, v := range valuesM {
		out[i] = v / unitM
	}
	return out
}

func (f *figures) inDegrees(lonStep, latStep float64) Step {
	return Step{lonStep, latStep, lonStep * perDegM * math.Cos(f.lat[0]*math.Pi/180), latStep * perDegM, false}
}

func ofGrid(stepM float64) Step { return Step{stepM, stepM, stepM, stepM, true} }

// What a part of a file may be rounded to by itself, the coarsest first. Judgement.
var (
	coarserDegrees = []float64{1e-3, 1e-4, 1e-5, 1e-6}
	coarserGridM   = []float64{10, 1, 0.1}
)

// Figures without a step are taken to go down to the eighth decimal of a degree and to a
// millimetre, as fine as anybody writes them (judgement).
const finestDegrees, finestGridM = 1e-8, 1e-3

// partsOf are the rows of a file whose figures are coarser than those of the others.
func partsOf(steps []float64, finer float64, rows []int32, as func(step float64) Step, columns ...[]float64) []roundedRows {
	var out []roundedRows
	for _, step := range steps {
		if step <= finer*(1+1e-9) {
			break
		}
		for _, run := range receiver.CoarserRows(step, finer, columns...) {
			out = append(out, roundedRows{rows[run.From], rows[run.To-1], as(step)})
		}
	}
	return out
}

const (
	perDegM       = math.Pi / 180 * 6371000 // of latitude; the mean radius from memory
	usSurveyFootM = 1200.0 / 3937           // US survey foot (US Metric Law of 1866)
)

// SigmaM is what the step of one position hides, one sigma per axis: a step
// over the square root of twelve, as derived from an even spread within it.
func (r Step) SigmaM() float64 { return math.Max(r.EastM, r.NorthM) / math.Sqrt(12) }

// Cell is what a position stands for that was written in these steps, metres to the east
// and to the north: anywhere in it, evenly.
func (r Step) Cell() geo.XY { return geo.XY{X: r.EastM, Y: r.NorthM} }

// AcrossM is by how much a line in a direction may be displaced by the rounding
// of its readings: half a step, less where the readings nearby fall on several
// steps, so that their roundings differ.
func (r Step) AcrossM(dir geo.XY, near []*trace.Reading) float64 {
	if r.EastM <= 0 && r.NorthM <= 0 {
		return 0
	}
	east, north := make([]float64, 0, len(near)), make([]float64, 0, len(near))
	for _, n := range near {
		e, no := n.Geographic.LonDeg, n.Geographic.LatDeg
		if r.grid {
			e, no = n.Projected[0], n.Projected[1]
		}
		east, north = append(east, onStep(e, r.lonStep)), append(north, onStep(no, r.latStep))
	}
	spread := func(steps []float64) float64 {
		slices.Sort(steps)
		return math.Sqrt(math.Max(1, float64(len(slices.Compact(steps)))))
	}
	return (math.Abs(dir.Y)*r.EastM/spread(east) + math.Abs(dir.X)*r.NorthM/spread(north)) / 2
}

// onStep is a figure on the nearest step, or itself where its column has none.
func onStep(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return math.Round(v / step)
}

// Of is the step of the figures that the positions of a walk were written in.
func Of(rs []*trace.Reading) Step {
	var f figures
	for _, r := range rs {
		if trace.Known(r.Geographic.LonDeg) && trace.Known(r.Geographic.LatDeg) {
			f.lon, f.lat = append(f.lon, r.Geographic.LonDeg), append(f.lat, r.Geographic.LatDeg)
		} else if trace.Known(r.Projected[0]) && trace.Known(r.Projected[1]) {
			f.east, f.north = append(f.east, r.Projected[0]), append(f.north, r.Projected[1])
		}
	}
	return f.steps()
}

// AcrossM is the rounding of the readings near a place, across a direction: the worst,
// where parts of a table are rounded otherwise than the rest.
func (k Files) AcrossM(dir geo.XY, near []*trace.Reading) float64 {
	m := 0.0
	for len(near) > 0 {
		by, n := k.Of(near[0]), 1
		for n < len(near) && k.Of(near[n]) == by {
			n++
		}
		alike, others := near[:n:n], []*trace.Reading(nil) // all of them, nearly always
		for _, r := range near[n:] {
			if k.Of(r) == by {
				alike = append(alike, r)
			} else {
				others = append(others, r)
			}
		}
		m = math.Max(m, by.AcrossM(dir, alike))
		near = others
	}
	return m
}
