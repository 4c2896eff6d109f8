package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// doubtCrossings takes back which of two lines is deeper where the depth of either is
// not known for a doubt: two figures of which one is no figure have no difference. To what
// stays it adds how far both may be off: their sum, for one receiver may read one of them
// too deep and the other too shallow.
func doubtCrossings(s *trace.Sheet) {
	doubted := func(name string, stationM float64) bool {
		l := s.Drawn(name)
		return l != nil && depthDoubted(l, stationM)
	}
	for i := range s.Lines {
		for k, f := range s.Lines[i].Findings {
			c, ok := f.(finding.Crossing)
			if !ok || !trace.Known(c.DepthDifferenceM) {
				continue
			}
			if doubted(c.Line, c.StationM) || !c.OnRecord() && doubted(c.Other, c.OtherStationM) {
				c.DepthDifferenceM = trace.Unknown
			} else if !c.OnRecord() {
				c.DepthsOffM = depth95At(s.Lines[i].Centerline, c.StationM) + depth95At(s.Drawn(c.Other).Centerline, c.OtherStationM)
			}
			s.Lines[i].Findings[k] = c
		}
	}
}

// depth95At is how far the depth at a station may be off: the wider of the two vertices
// that it lies between, Unknown where either has no band.
func depth95At(c *trace.Centerline, stationM float64) float64 {
	off := trace.Unknown
	for _, p := range c.Parts {
		for k := 1; k < len(p.Vertices); k++ {
			if a, b := p.Vertices[k-1], p.Vertices[k]; a.StationM <= stationM && stationM <= b.StationM {
				off = math.Max(a.Depth95M, b.Depth95M)
			}
		}
	}
	return off
}

// doubtsDepths tells which findings say that no depth is to be compared where they are.
var doubtsDepths = finding.PerKind[bool]{
	BleedOver: grave,
	Doubt:     func(finding.Doubt) bool { return true },
	Else:      func(trace.Finding) bool { return false },
}

// depthDoubted reports that a depth at a station must not be compared: another line's
// signal is suspected, the readings contradict the line, or its band reaches the
// surface.
func depthDoubted(l *trace.Line, stationM float64) bool {
	for _, f := range l.Findings {
		from, to := f.Span()
		if from <= stationM && stationM <= to && doubtsDepths.Of(f) {
			return true
		}
	}
	for _, p := range l.Centerline.Parts {
		for k := 1; k < len(p.Vertices); k++ {
			a, b := p.Vertices[k-1], p.Vertices[k]
			if a.StationM <= stationM && stationM <= b.StationM && (a.Depth95M >= a.DepthM || b.Depth95M >= b.DepthM) {
				return true
			}
		}
	}
	return false
}
