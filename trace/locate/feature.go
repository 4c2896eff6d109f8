package locate

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// featureReachM is how far from the readings a fixed feature may lie before its
// position is taken for a slip: no tape reaches nearly as far. Judgement.
const featureReachM = 1000.0

// fixedFeatures brings the job's fixed features into the plane. One whose place
// cannot be right is left out and told: a tie to it would be wrong and look sure.
func fixedFeatures(job trace.Job, frame geo.Frame, plane geo.Plane, rs []trace.Reading) ([]trace.Feature, []trace.Problem) {
	var out []trace.Feature
	var problems []trace.Problem
	for _, f := range job.Features {
		at, err := fixedPlace(f, frame)
		if err == nil {
			q, near := plane.XY(at), math.Inf(1)
			for i := range rs {
				if rs[i].Status == "" {
					near = math.Min(near, rs[i].Pos.Dist(q))
				}
			}
			switch {
			case math.IsInf(near, 1): // no place to compare it with, and nothing to tie
				continue
			case near <= featureReachM:
				out = append(out, trace.Feature{Name: f.Name, Path: []geo.XY{q}})
				continue
			}
			err = fmt.Errorf("it lies %s from the nearest reading", job.Units.Long(near))
		}
		problems = append(problems, trace.Problem{Field: "feature", Value: f.Name, Warn: true,
			Cause: fmt.Sprintf("nothing is measured from the fixed feature %q: %v", f.Name, err),
			Hint:  "check its position: longitude comes first, or east before north in the job's crs"})
	}
	return out, problems
}

// taped are the named things of background layers that a tape can be held to, where
// the frames leave no doubt about their places.
func taped(background []trace.Background) []trace.Feature {
	var out []trace.Feature
	for _, b := range background {
		if b.Name != "" && b.DoubtM == 0 {
			out = append(out, trace.Feature{Name: b.Name, Source: b.Source, Path: b.Path})
		}
	}
	return out
}

// fixedPlace is where a fixed feature lies in WGS 84.
func fixedPlace(f trace.FixedFeature, frame geo.Frame) (geo.LonLat, error) {
	if f.Grid {
		if frame.CRS.Geographic() {
			return geo.LonLat{}, fmt.Errorf("its position is not a longitude and latitude, and %s has no east and north", frame.CRS.ID())
		}
		return frame.Unproject(f.X, f.Y)
	}
	return frame.ToWGS84(geo.LonLat{LonDeg: f.X, LatDeg: f.Y}), nil
}
