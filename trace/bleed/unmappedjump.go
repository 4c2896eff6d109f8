package bleed

import (
	"math"
	"sync"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A stretch has gone over to a course beside where its marks step aside at its ends
// by leastAsideM and asideDepths and by surelyAside sigma, and both ends agree.
// Marks only drawn aside stay nearer. Judgement.
const (
	leastAsideM = 0.35
	asideDepths = 0.6
	surelyAside = 4
	agreeSigmas = 2.5
	agreePart   = 0.35
)

// besideOwn is how far the line's own course lies from the marks of readings
// [from, to], positive to the right, by how they step aside at the ends; false where
// they do not surely.
func (c *columns) besideOwn(from, to int) (amount, bool) {
	var ends []amount
	if s, ok := c.hop(from); ok {
		ends = append(ends, amount{-s.by, s.sd})
	}
	if s, ok := c.hop(to + 1); ok {
		ends = append(ends, s)
	}
	sure := func(s amount) bool { return c.surelyBeside(s, (from+to)/2) }
	switch {
	case len(ends) == 0 || !sure(ends[0]) && !sure(ends[len(ends)-1]):
		return amount{}, false
	case len(ends) == 1:
		return ends[0], true
	}
	a, b := ends[0], ends[1]
	if math.Abs(a.by-b.by) > agreeSigmas*math.Hypot(math.Hypot(a.sd, b.sd), agreePart*math.Max(math.Abs(a.by), math.Abs(b.by))/agreeSigmas) {
		return amount{}, false
	}
	mean := (a.by/(a.sd*a.sd) + b.by/(b.sd*b.sd)) / (1/(a.sd*a.sd) + 1/(b.sd*b.sd))
	return amount{mean, math.Hypot(math.Min(a.sd, b.sd), math.Abs(a.by-b.by)/2)}, true
}

// surelyBeside reports whether marks about a reading that step aside are on a course
// beside: marks that are only drawn aside stay nearer.
func (c *columns) surelyBeside(s amount, at int) bool {
	return math.Abs(s.by) >= math.Max(leastAsideM, asideDepths*c.depth[at]) && math.Abs(s.by) >= surelyAside*s.sd
}

// mayLieBeside reports whether the marks at the ends of readings [from, to] leave it
// open that the line's own course lies asideM from them within, as it does if the
// other conductor that was found is the line and the marks are on that conductor.
func (c *columns) mayLieBeside(from, to int, asideM float64) bool {
	asked := false
	for end, edge := range [2]int{from, to + 1} {
		nearest := math.Inf(1)
		for at := edge - 1; at <= edge+1; at++ {
			s, ok := c.stepBeside(at, at+1, 0)
			if !ok {
				continue
			}
			if end == 0 {
				s.by = -s.by
			}
			nearest = math.Min(nearest, math.Abs(s.by-asideM)/math.Hypot(s.sd, agreePart*asideM))
		}
		if !math.IsInf(nearest, 0) {
			asked = true
			if nearest > agreeSigmas {
				return false
			}
		}
	}
	return asked
}

// widenForOther widens the caution of a stretch on signal of a neighbour that nobody drew
// to where the fit puts that conductor: two currents of any shares look much the same
// over either conductor, and where the marks' places leave it open on which of the two
// they lie, the line may be the other.
func (c *columns) widenForOther(s *Stretch, f finding) {
	if f.name != Unknown || f.coupled < SuspectCoupled {
		return
	}
	for _, side := range []float64{-1, 1} {
		aside := side * math.Abs(f.fittedAsideM)
		if f.sideKnown() && aside*f.fittedAsideM < 0 || math.Abs(aside) > mostLateralM || !c.mayLieBeside(f.from, f.to, aside) {
			continue
		}
		if reach := math.Abs(aside) * (1 + agreePart); side > 0 {
			s.WidenRightM = math.Max(s.WidenRightM, reach)
		} else {
			s.WidenLeftM = math.Max(s.WidenLeftM, reach)
		}
	}
}

// widenToOwnRecord widens the caution of a stretch on signal of a neighbour whose record
// may be an old drawing of the line itself to that record: two currents look much the same
// over either conductor, and then the marks are on the other one.
func widenToOwnRecord(s *Stretch, f finding, near []neighbour) {
	if f.coupled < SuspectCoupled {
		return
	}
	for _, e := range near {
		if !e.mayBeOwn || e.name != f.name {
			continue
		}
		if reach := math.Abs(f.asideM) * (1 + agreePart); f.asideM > 0 {
			s.WidenRightM = math.Max(s.WidenRightM, reach)
		} else {
			s.WidenLeftM = math.Max(s.WidenLeftM, reach)
		}
	}
}

// unmapped is a line against a neighbour that nobody drew.
type unmapped struct {
	line Line
	*columns
	allLegs func() legs // made when first asked for: as much work as the line is long
}

func newUnmapped(line Line, c *columns) unmapped {
	m := unmapped{line: line, columns: c}
	m.allLegs = sync.OnceValue(m.legs)
	return m
}

// wentOver tells of suspected stretches on signal of a neighbour that nobody drew
// whose marks step aside to a course beside that they have gone over to it: the
// caution holds both courses.
func (m unmapped) wentOver(found []Stretch) {
	for i := range found {
		s := &found[i]
		if s.Neighbor != Unknown || s.Grade == trace.GradeWatch {
			continue
		}
		from, to := m.readingsIn(s.FromM, s.ToM)
		if from >= to {
			continue
		}
		if o, ok := m.besideOwn(from, to); ok {
			m.goOver(s, o, from, to)
			continue
		}
		m.widenToEnds(s, from, to)
	}
}

// widenToEnds widens the caution of a suspected stretch to the courses that its marks
// leave at either end: where they step aside, but the ends do not agree or one of them
// is not seen, the line may be on any of them.
func (m unmapped) widenToEnds(s *Stretch, from, to int) {
	for end, edge := range [2]int{from, to + 1} {
		step, ok := m.hop(edge)
		if !ok || math.Abs(step.by) < perhapsAside*step.sd {
			continue
		}
		if end == 0 {
			step.by = -step.by
		}
		half := 1.96 * math.Hypot(step.sd, asideDrift*step.by)
		s.WidenRightM = math.Max(s.WidenRightM, math.Min(farWiden, step.by+half))
		s.WidenLeftM = math.Max(s.WidenLeftM, math.Min(farWiden, half-step.by))
	}
}

// perhapsAside is of how many sigma a step aside may be one. Judgement.
const perhapsAside = 2.0

// readingsIn are the first and the last reading between two stations.
func (c *columns) readingsIn(fromM, toM float64) (from, to int) {
	from, to = len(c.rd), -1
	for k, r := range c.rd {
		if r.StationM >= fromM && r.StationM <= toM {
			from, to = min(from, k), max(to, k)
		}
	}
	return from, to
}

func (m unmapped) goOver(s *Stretch, own amount, from, to int) {
	s.Own = []trace.CourseStrip{m.beside(own, from, to)}
	s.Jump, s.Side, s.SeparationM, s.ShiftM, s.Shift95M = true, sideOf(own.by), math.Abs(own.by), math.Abs(own.by), math.Min(farWiden, 1.96*math.Hypot(own.sd, asideDrift*own.by))
	s.LnDepth95 = math.NaN()
	s.WidenRightM, s.WidenLeftM = math.Max(s.WidenRightM, math.Max(0, own.by+s.Shift95M)), math.Max(s.WidenLeftM, math.Max(0, s.Shift95M-own.by))
	s.Evidence = append(s.Evidence, remark.StepToUnmapped{AsideM: math.Abs(own.by), StationM: s.FromM})
}

// asideDrift is by what part the distance of two lines in one street changes
// along them, one sigma. Judgement.
const asideDrift = 0.15

// beside is the course beside the marks of readings [from, to]: two lines in one
// street keep their distance, the less surely the farther from where the marks went
// over.
func (m unmapped) beside(own amount, from, to int) (s trace.CourseStrip) {
	path := geo.NewPolyline(m.line.Points)
	a, b := m.rd[from].StationM, m.rd[to].StationM
	if from > 0 {
		a = m.rd[from-1].StationM
	}
	if to+1 < len(m.rd) {
		b = m.rd[to+1].StationM
	}
	n := max(1, int(math.Ceil((b-a)/carriedStepM)))
	for i := range n + 1 {
		st := a + (b-a)*float64(i)/float64(n)
		dir := direction(path, st, partedOverM)
		reach := math.Inf(1)
		if from > 0 {
			reach = st - a
		}
		if to+1 < len(m.rd) {
			reach = math.Min(reach, b-st)
		}
		s.Path = append(s.Path, path.At(st).Add(geo.XY{X: dir.Y, Y: -dir.X}.Scale(own.by)))
		s.Half95M = append(s.Half95M, math.Min(farWiden, 1.96*math.Hypot(math.Hypot(own.sd, asideDrift*own.by), streetDrift*reach)))
	}
	return s
}
