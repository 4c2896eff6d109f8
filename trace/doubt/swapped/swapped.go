// Package swapped finds where two traced lines have perhaps changed names ([Tell]): they
// meet, both turn sharply there, and either goes straight on as the other. Two lines do that
// where they touch at their corners, which is rarer than that two lines cross and the rows
// behind bear the wrong names, or the receiver went over from one to the other.
package swapped

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// What makes two lines that meet doubtful. All judgement.
const (
	// skipM about the place is left out of the courses that lead to it, for corners are
	// rounded and drawn a stride off; the courses are courseM long, or leastM near an end.
	skipM, courseM, leastM = 2.0, 10.0, 4.0
	// turnsRad is from where a line turns, straightRad up to where it goes straight on.
	turnsRad, straightRad = 25 * math.Pi / 180, 8 * math.Pi / 180
	// levelOf is how many readings on a course tell the current and the depth there, and
	// ownLevels by how much less, in logs, they must change along the names than across
	// them to show that the names are right.
	levelOf, ownLevels = 5, 0.3
)

// Tell adds to lines that meet what stretches of theirs may be each other's: the shorter two
// that would change places, with their crossings found.
func Tell(lines []trace.Line) {
	drawn := map[string]*course{}
	for i := range lines {
		if l := &lines[i]; l.Centerline != nil {
			drawn[l.Setup.Name] = &course{line: l}
		}
	}
	for i := range lines {
		for _, f := range lines[i].Findings {
			c, ok := f.(finding.Crossing)
			if a, b := drawn[c.Line], drawn[c.Other]; ok && a != nil && b != nil && !c.OnRecord() {
				tell(a, b, c)
			}
		}
	}
}

// course is a line with its path, which is made for the first crossing: a long line may have
// many, or none.
type course struct {
	line *trace.Line
	path *geo.Polyline
}

func tell(a, b *course, c finding.Crossing) {
	ofA, okA := a.arms(c.StationM)
	ofB, okB := b.arms(c.OtherStationM)
	if !okA || !okB || straight(ofA[0], ofA[1]) < turnsRad || straight(ofB[0], ofB[1]) < turnsRad {
		return
	}
	for k := range ofB { // the arm of b that goes on from the first of a
		on, other := ofB[k], ofB[1-k]
		if straight(ofA[0], on) > straightRad || straight(ofA[1], other) > straightRad ||
			apart(ofA[0], ofA[1])+apart(ofB[0], ofB[1])+ownLevels < apart(ofA[0], on)+apart(ofA[1], other) {
			continue
		}
		x, y := ofA[1], on // change places, or the other two do
		if ofA[0].lengthM()+other.lengthM() < x.lengthM()+y.lengthM() {
			x, y = ofA[0], other
		}
		x.doubt(b.line.Setup.Name)
		y.doubt(a.line.Setup.Name)
		return
	}
}

// arm is a line on one side of a place.
type arm struct {
	line       *trace.Line
	atM        float64 // the place, and from where to where the arm is: stations
	fromM, toM float64
	outward    geo.XY // of length one, away from the place
}

// arms are the two sides of a place on a line, where it has both.
func (c *course) arms(atM float64) (out [2]arm, ok bool) {
	if c.path == nil {
		path := c.line.Centerline.Polyline()
		c.path = &path
	}
	for k, way := range [2]float64{-1, 1} {
		x := arm{line: c.line, atM: atM, fromM: 0, toM: atM}
		if way > 0 {
			x.fromM, x.toM = atM, c.path.Length()
		}
		reachM := math.Min(skipM+courseM, x.lengthM())
		if reachM < skipM+leastM {
			return out, false
		}
		leads := c.path.At(atM + way*reachM).Sub(c.path.At(atM + way*skipM))
		if leads.Norm() == 0 {
			return out, false
		}
		x.outward = leads.Scale(1 / leads.Norm())
		out[k] = x
	}
	return out, true
}

func (x arm) lengthM() float64 { return x.toM - x.fromM }

func depthOf(r *trace.Reading) float64 {
	if r.DepthDropped {
		return trace.Unknown
	}
	return r.DepthM
}

// level is the log of what the readings of an arm nearest to the place show; NaN where they
// show nothing.
func (x arm) level(of func(*trace.Reading) float64) float64 {
	var near []*trace.Reading
	for i := range x.line.Readings {
		r := &x.line.Readings[i]
		if r.Status == trace.StatusUsed && r.StationM >= x.fromM && r.StationM <= x.toM && math.Abs(r.StationM-x.atM) >= skipM && of(r) > 0 {
			near = append(near, r)
		}
	}
	slices.SortStableFunc(near, func(a, b *trace.Reading) int {
		return cmp.Compare(math.Abs(a.StationM-x.atM), math.Abs(b.StationM-x.atM))
	})
	var v []float64
	for _, r := range near[:min(levelOf, len(near))] {
		v = append(v, math.Log(of(r)))
	}
	if len(v) == 0 {
		return trace.Unknown
	}
	return ranked.Median(v)
}

// straight is by how much a course turns that comes in along one arm and goes out along
// another, in radians.
func straight(in, out arm) float64 {
	return math.Abs(math.Atan2(in.outward.Cross(out.outward), -in.outward.Dot(out.outward)))
}

// apart is by how much current and depth of two arms differ, in logs.
func apart(x, y arm) (by float64) {
	for _, of := range []func(*trace.Reading) float64{func(r *trace.Reading) float64 { return r.CurrentMA }, depthOf} {
		if d := x.level(of) - y.level(of); !math.IsNaN(d) {
			by += math.Abs(d)
		}
	}
	return by
}

// doubt has the arm's line told that it may be the other there.
func (x arm) doubt(other string) {
	d := finding.Doubt{Line: x.line.Setup.Name, Why: remark.MixedUp{Other: other}}
	d.FromM, d.ToM, d.Path = x.line.Centerline.Stretch(x.fromM, x.toM)
	x.line.Findings = append(x.line.Findings, d)
}
