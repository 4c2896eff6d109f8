// Package weave tells where a course bows gently to one side and then to the other.
//
// A line is laid straight or round a bend, and a receiver that is not held over the peak
// strays to one side and then to the other, some decimetres over some metres; a cable that
// was laid by eye does the like. It sees a course alone; what a map says of it is not asked
// here.
package weave

import (
	"math"

	"loamline.example/geo"
)

// What makes a bow. Judgement.
const (
	// leastTurn to the other side ends a bow, mostTurn and mostBowM bound one: what turns
	// or lies farther off its chord than that was laid so.
	leastTurn, mostTurn = 1.5 * math.Pi / 180, 20 * math.Pi / 180
	leastBowM, mostBowM = 0.04, 0.6
	mostBowLengthM      = 40.0
	// bowChordM, or two readings' spacing, is what a heading is taken over.
	bowChordM, bowStepM = 3.0, 0.5
)

// Bow is a stretch of a course that turns to one side, with how far it lies off its chord.
type Bow struct{ FromM, ToM, OffM float64 }

// Course is the place of a course at each of its stations.
type Course func(stationM float64) geo.XY

// Bows are the runs of bows of a leg without corners, read every spacingM.
func (at Course) Bows(fromM, toM, spacingM float64) [][]Bow {
	chord := math.Max(bowChordM, 2*spacingM)
	heading := at.headings(fromM+chord/2, toM-chord/2, chord)
	ends := extremes(heading, leastTurn)
	station := func(k int) float64 {
		switch k {
		case 0:
			return fromM
		case len(ends) - 1:
			return toM
		}
		return fromM + chord/2 + float64(ends[k])*bowStepM
	}
	var out [][]Bow
	var run []Bow
	for k := 0; k+1 < len(ends); k++ {
		b := Bow{FromM: station(k), ToM: station(k + 1)}
		b.OffM = at.offChord(b.FromM, b.ToM)
		turn := heading[ends[k+1]] - heading[ends[k]]
		if math.Abs(turn) <= mostTurn && b.ToM-b.FromM <= mostBowLengthM && b.OffM >= leastBowM && b.OffM <= mostBowM {
			run = append(run, b)
			continue
		}
		out, run = append(out, run), nil
	}
	return append(out, run)
}

// headings are the directions of chords of the course about stations, every
// bowStepM, without jumps by a whole turn.
func (at Course) headings(fromM, toM, chordM float64) []float64 {
	var out []float64
	for s := fromM; s <= toM; s += bowStepM {
		d := at(s + chordM/2).Sub(at(s - chordM/2))
		h := math.Atan2(d.Y, d.X)
		if n := len(out); n > 0 {
			h = out[n-1] + math.Remainder(h-out[n-1], 2*math.Pi)
		}
		out = append(out, h)
	}
	return out
}

// extremes are where values turn back by least or more, with the last one.
func extremes(values []float64, least float64) []int {
	var out []int
	low, high, up, down := 0, 0, false, false
	for i, x := range values {
		if x < values[low] {
			low = i
		}
		if x > values[high] {
			high = i
		}
		switch {
		case !up && x-values[low] >= least:
			out = append(out, low)
			up, down, high = true, false, i
		case !down && values[high]-x >= least:
			out = append(out, high)
			up, down, low = false, true, i
		}
	}
	switch {
	case up:
		out = append(out, high)
	case down:
		out = append(out, low)
	}
	return out
}

// offChord is how far the course lies off the chord between two stations.
func (at Course) offChord(fromM, toM float64) float64 {
	chord := geo.NewPolyline([]geo.XY{at(fromM), at(toM)})
	off := 0.0
	for s := fromM; s < toM; s += bowStepM {
		off = math.Max(off, math.Abs(chord.Nearest(at(s)).OffsetM))
	}
	return off
}
