package records

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Plane brings the records near the job's readings into its plane. A
// layer of which nothing comes near is told: its axes or its place are wrong.
func Plane(in []trace.GeoRecord, plane geo.Plane, rs []trace.Reading) ([]trace.Record, []trace.Background, []trace.Problem) {
	job := degreeBox{origin: plane.Origin()}
	for i := range rs {
		if rs[i].Status == "" {
			job.add(rs[i].Geographic)
		}
	}
	job.grow(trace.RecordReachM)
	var out []trace.Record
	var ground []trace.Background
	var order []string
	count := map[string][3]int{} // by source: all, near, near with longitude and latitude swapped
	for _, g := range in {
		box, swapped := degreeBox{origin: plane.Origin()}, degreeBox{origin: plane.Origin()}
		for _, ll := range g.Path {
			box.add(ll)
			swapped.add(geo.LonLat{LonDeg: ll.LatDeg, LatDeg: ll.LonDeg})
		}
		n, seen := count[g.Source]
		if !seen {
			order = append(order, g.Source)
		}
		n[0]++
		if job.meets(box) {
			n[1]++
			r := planeRecord(g, plane)
			if g.Background {
				ground = append(ground, trace.Background{Name: r.Name, Source: r.Source, Path: r.Path, DoubtM: r.DoubtM})
			} else {
				out = append(out, r)
			}
		} else if job.meets(swapped) {
			n[2]++
		}
		count[g.Source] = n
	}
	var problems []trace.Problem
	for _, source := range order {
		n := count[source]
		if n[1] > 0 || !job.some {
			continue
		}
		p := trace.Problem{File: source, Warn: true, Hint: "check that it is the layer of this place",
			Cause: fmt.Sprintf("none of the layer's %d lines comes within %.0f m of the readings", n[0], trace.RecordReachM),
			Check: remark.LayerFar{Source: source, N: n[0], ReachM: trace.RecordReachM}}
		if n[2] > 0 {
			p.Hint = "longitude and latitude look swapped: in GeoJSON the longitude comes first"
		}
		problems = append(problems, p)
	}
	return out, ground, problems
}

// ByFrame adds to what earlier jobs traced how far off their maps may lie for their frames.
// It is nothing between two jobs of frames that are both in doubt: it may be the same doubt,
// and this map tells it of itself.
func ByFrame(earlier []trace.Record, readings geo.Frame) []trace.Record {
	if !readings.Stated || readings.CoarseM() > 0 {
		return earlier
	}
	for i := range earlier {
		if r := &earlier[i]; r.FrameDoubtM > 0 {
			if r.FrameDoubtM > r.DoubtM {
				r.DoubtWhy = r.FrameDoubtWhy
			}
			r.DoubtM += r.FrameDoubtM
		}
	}
	return earlier
}

func planeRecord(g trace.GeoRecord, plane geo.Plane) trace.Record {
	r := trace.Record{Name: g.Name, Source: g.Source, Utility: g.Utility, DepthM: g.DepthM, DoubtM: g.DoubtM, DoubtWhy: g.DoubtWhy, Path: make([]geo.XY, len(g.Path))}
	for i, ll := range g.Path {
		r.Path[i] = plane.XY(ll)
	}
	return r
}

// degreeBox holds positions; longitudes count from its origin's, so that a job
// on the antimeridian has no box around the globe.
type degreeBox struct {
	origin       geo.LonLat
	some         bool
	west, east   float64
	south, north float64
}

func (b *degreeBox) add(p geo.LonLat) {
	lon := math.Remainder(p.LonDeg-b.origin.LonDeg, 360)
	if !b.some {
		b.some, b.west, b.east, b.south, b.north = true, lon, lon, p.LatDeg, p.LatDeg
		return
	}
	b.west, b.east = math.Min(b.west, lon), math.Max(b.east, lon)
	b.south, b.north = math.Min(b.south, p.LatDeg), math.Max(b.north, p.LatDeg)
}

// grow widens the box by a distance, on a sphere.
func (b *degreeBox) grow(m float64) {
	const degreeM = 111_195.0 // of a sphere of 6371 km: derived
	lat := m / degreeM
	lon := lat / math.Max(0.01, math.Cos(b.origin.LatDeg*math.Pi/180)) // judgement: at a pole no box is wide enough
	b.west, b.east, b.south, b.north = b.west-lon, b.east+lon, b.south-lat, b.north+lat
}

func (b degreeBox) meets(o degreeBox) bool {
	return b.some && o.some && b.west <= o.east && o.west <= b.east && b.south <= o.north && o.south <= b.north
}
