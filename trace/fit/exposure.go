package fit

import (
	"context"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// exposures compares each exposed reading with the line that the others make.
func exposures(ctx context.Context, readings []reading, opt Options) ([]Exposure, error) {
	var at []int
	for i := range readings {
		if r := &readings[i]; r.Exposed && usable(r) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return nil, nil
	}
	rest := make([]reading, 0, len(readings)-len(at))
	for i := range readings {
		if r := &readings[i]; !r.Exposed || !usable(r) {
			rest = append(rest, *r)
		}
	}
	blind, err := fitLine(ctx, rest, opt)
	if err != nil {
		return nil, err
	}
	var out []Exposure
	for _, i := range at {
		if e, ok := compare(readings[i].Pos, readings[i].DepthM, blind.Parts); ok {
			e.Index = i
			out = append(out, e)
		}
	}
	return out, nil
}

// Beside compares an exposed reading with a line that was drawn without it.
func Beside(r *trace.Reading, parts []trace.Part) (Exposure, bool) {
	return compare(r.Pos, r.DepthM, parts)
}

// compare finds the nearest place of the line without a gap in it. Past an end
// of a part only what lies across counts as an offset.
func compare(at geo.XY, depthM float64, parts []trace.Part) (Exposure, bool) {
	var best Exposure
	nearest := math.Inf(1)
	for _, p := range parts {
		part := p.Vertices
		for i := 0; i+1 < len(part); i++ {
			a, b := part[i], part[i+1]
			u, d := legFoot(a.Pos, b.Pos, at)
			if d >= nearest {
				continue
			}
			nearest = d
			off := at.Sub(a.Pos.Lerp(b.Pos, u))
			dir := b.Pos.Sub(a.Pos)
			dir = dir.Scale(1 / math.Max(dir.Norm(), 1e-9))
			e := Exposure{StationM: a.StationM + u*(b.StationM-a.StationM), OffsetM: d,
				DepthM:        a.DepthM + u*(b.DepthM-a.DepthM),
				Horizontal95M: a.Horizontal95M + u*(b.Horizontal95M-a.Horizontal95M)}
			if past := math.Abs(off.Dot(dir)); u == 0 && i == 0 || u == 1 && i+2 == len(part) {
				e.BeyondM, e.OffsetM = past, math.Abs(dir.Cross(off))
			}
			if dir.Cross(off) > 0 {
				e.OffsetM = -e.OffsetM
			}
			e.DepthDifferenceM = e.DepthM - depthM
			best = e
		}
	}
	return best, !math.IsInf(nearest, 1)
}
