package fit

import (
	"math"

	"loamline.example/geo"
)

// referencePath is a local straight-line regression of the guide points on the
// station, at even distances.
func referencePath(s []sample, guide []geo.XY, hM float64) []geo.XY {
	first, last := s[0].stationM, s[len(s)-1].stationM
	n := int(math.Ceil((last-first)/hM)) + 1
	if n < 2 {
		return nil
	}
	step := (last - first) / float64(n-1)
	width := 3 * hM
	out := make([]geo.XY, n)
	lo, hi := 0, 0
	for k := range out {
		at := first + float64(k)*step
		for hi < len(s) && s[hi].stationM <= at+width {
			hi++
		}
		for lo < len(s)-1 && s[lo].stationM < at-width {
			lo++
		}
		a, b := lo, hi
		for b-a < 4 && b-a < len(s) { // widen over a thin stretch
			if a > 0 && (b >= len(s) || at-s[a-1].stationM <= s[b].stationM-at) {
				a--
			} else {
				b++
			}
		}
		out[k] = localPoint(s[a:b], guide[a:b], at, width)
	}
	return resample(out, hM)
}

// localPoint is the value at a station of a straight line through the guide
// points, with tricube weights.
func localPoint(s []sample, guide []geo.XY, at, width float64) geo.XY {
	for _, q := range []sample{s[0], s[len(s)-1]} {
		// A hair wider, so that no weight is nought. Judgement.
		width = math.Max(width, 1.001*math.Abs(q.stationM-at))
	}
	var s0, s1, s2 float64
	var y0, y1 geo.XY
	for i, q := range s {
		u := (q.stationM - at) / width
		t := 1 - math.Abs(u*u*u)
		wt := q.wt * t * t * t
		s0, s1, s2 = s0+wt, s1+wt*u, s2+wt*u*u
		y0, y1 = y0.Add(guide[i].Scale(wt)), y1.Add(guide[i].Scale(wt*u))
	}
	det := s0*s2 - s1*s1
	if det <= 1e-9*s0*s2 {
		return y0.Scale(1 / s0)
	}
	return y0.Scale(s2 / det).Sub(y1.Scale(s1 / det))
}

// mostNodes bounds a path through places that make no sense. Judgement: memory.
const mostNodes = 50000

// resample returns points at even distances of about hM along a path, both ends
// included; none where they would be too many.
func resample(path []geo.XY, hM float64) []geo.XY {
	line := geo.NewPolyline(path)
	length := line.Length()
	if !(length > 0) || length > mostNodes*hM {
		return nil
	}
	n := max(2, int(math.Round(length/hM))+1)
	out := make([]geo.XY, n)
	seg := 0
	for k := range out {
		at := length * float64(k) / float64(n-1)
		for seg+2 < len(path) && line.Station(seg+1) < at {
			seg++
		}
		u := 0.0
		if d := line.Station(seg+1) - line.Station(seg); d > 0 {
			u = clamp((at-line.Station(seg))/d, 0, 1)
		}
		out[k] = path[seg].Lerp(path[seg+1], u)
	}
	return out
}
