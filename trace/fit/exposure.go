package fit

import (
	"context"
	"math"
)

// exposures compares each exposed reading with the line that the others make.
func exposures(ctx context.Context, readings []Reading, opt Options) ([]Exposure, error) {
	var at []int
	for i := range readings {
		if r := &readings[i]; r.Exposed && usable(r) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return nil, nil
	}
	rest := make([]Reading, 0, len(readings)-len(at))
	for i := range readings {
		if r := &readings[i]; !r.Exposed || !usable(r) {
			rest = append(rest, *r)
		}
	}
	blind, err := Line(ctx, rest, opt)
	if err != nil {
		return nil, err
	}
	var out []Exposure
	for _, i := range at {
		if e, ok := compare(readings[i], blind.Parts); ok {
			e.Index = i
			out = append(out, e)
		}
	}
	return out, nil
}

// compare finds the nearest place of the line without a gap in it.
func compare(r Reading, parts [][]Vertex) (Exposure, bool) {
	best := Exposure{OffsetM: math.Inf(1), DepthDifferenceM: math.NaN()}
	for _, part := range parts {
		for i := 0; i+1 < len(part); i++ {
			u, d := legFoot(part[i].Pos, part[i+1].Pos, r.Pos)
			if d >= math.Abs(best.OffsetM) {
				continue
			}
			if part[i+1].Pos.Sub(part[i].Pos).Cross(r.Pos.Sub(part[i].Pos)) > 0 {
				d = -d
			}
			depth := part[i].DepthM + u*(part[i+1].DepthM-part[i].DepthM)
			best = Exposure{0, part[i].StationM + u*(part[i+1].StationM-part[i].StationM), d, depth - r.DepthM}
		}
	}
	return best, !math.IsInf(best.OffsetM, 1)
}
