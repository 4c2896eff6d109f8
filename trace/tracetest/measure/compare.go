package measure

import (
	"math"

	"loamline.example/trace/tracetest"
)

// nearCornerM is how near an elbow counts as at it.
const nearCornerM = 3

// compare scores a curve against a true line between the first and the last
// place that was read.
func compare(c curve, l tracetest.Line, fromM, toM float64) *Score {
	s := &Score{Traces: 1}
	if len(c) == 0 {
		s.Empty = 1
	}
	for _, p := range c.samples() {
		f := l.Path.Nearest(p.pos)
		e := math.Abs(f.OffsetM)
		s.out = append(s.out, e)
		if !math.IsNaN(p.wide95M) {
			s.wide = append(s.wide, p.wide95M)
			in := 0
			if e <= p.wide95M {
				in = 1
			}
			s.wideIn += in
			if atCorner(l, f.StationM) {
				s.cornerIn += in
				s.cornerAll++
			}
		}
		s.addDepth(p, l.DepthAt(f.StationM))
	}
	for st := fromM; st <= toM && len(c) > 0; st += everyM {
		d, drawn := c.distance(l.Path.At(st))
		if !drawn {
			continue
		}
		s.back = append(s.back, d)
		if atCorner(l, st) {
			s.corner = append(s.corner, d)
		}
	}
	return s
}

func (s *Score) addDepth(p point, trueM float64) {
	if math.IsNaN(p.depthM) {
		return
	}
	e := math.Abs(p.depthM - trueM)
	s.depth = append(s.depth, e)
	if !math.IsNaN(p.depth95M) {
		s.depthBand = append(s.depthBand, p.depth95M)
		if e <= p.depth95M {
			s.depthIn++
		}
	}
}

func atCorner(l tracetest.Line, stationM float64) bool {
	for _, k := range l.Corners {
		if math.Abs(k.StationM-stationM) <= nearCornerM {
			return true
		}
	}
	return false
}

// span returns the stations of the first and the last place read.
func span(t tracetest.Trace) (fromM, toM float64) {
	fromM, toM = math.Inf(1), math.Inf(-1)
	for _, r := range t.Readings {
		fromM, toM = math.Min(fromM, r.Truth.StationM), math.Max(toM, r.Truth.StationM)
	}
	return fromM, toM
}

// distance of a leap that matters: four sigmas of the reading off the line.
func matters(r tracetest.Reading, l tracetest.Line) bool {
	off := math.Abs(l.Path.Nearest(r.Pos).OffsetM)
	return r.Truth.Blunder && off > 4*math.Hypot(r.Truth.SigmaM, math.Hypot(r.Truth.PinpointM, r.Truth.RoundM))
}
