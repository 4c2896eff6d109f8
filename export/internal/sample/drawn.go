package sample

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Of is a job of straight or given paths, with a depth of 1.5 m and
// bands, for tests of the drawing.
func Of(u geo.Units, paths ...[]geo.XY) *trace.Sheet {
	job := trace.DefaultJob()
	job.Units, job.Ticket, job.Date, job.ValidUntil = u, "T-1", "2026-05-12", "2026-06-11"
	job.Area, job.Locator = "Orchard Lane", "N. Example"
	s := &trace.Sheet{
		Name: "job", Version: "0", Job: job, Plane: geo.NewPlane(geo.LonLat{LonDeg: 12, LatDeg: 48}),
		Frame:    geo.Plain("WGS 84 as given."),
		Inputs:   []trace.Input{{Name: "a.csv", SHA256: strings.Repeat("0123456789abcdef", 4)}},
		Cautions: []string{"Positions are approximate.", "Expose to verify."},
	}
	kinds := []trace.Utility{trace.Water, trace.Gas, trace.Electric, trace.Communication}
	for i, path := range paths {
		s.Lines = append(s.Lines, testLine(string(rune('A'+i)), kinds[i%len(kinds)], path))
	}
	return s
}

func testLine(name string, u trace.Utility, path []geo.XY) trace.Line {
	l := trace.Line{Setup: trace.LineSetup{Name: name, Utility: u, DiameterM: trace.Unknown, FreqHz: 8192, PowerW: trace.Unknown}}
	pl := geo.NewPolyline(path)
	var part trace.Part
	for i, q := range path {
		s := pl.Station(i)
		part.Vertices = append(part.Vertices, trace.Vertex{Pos: q, StationM: s, DepthM: 1.5, Depth95M: 0.2,
			Horizontal95M: 0.1, Common95M: 0.05, ElevM: trace.Unknown})
		r := trace.NewReading()
		r.Row, r.Line, r.Pos, r.StationM, r.OffsetM, r.DepthM, r.Status = int32(i+2), name, q, s, 0, 1.5, trace.StatusUsed
		l.Readings = append(l.Readings, r)
	}
	l.Centerline = &trace.Centerline{Parts: []trace.Part{part}}
	l.Tolerance = trace.Zone{Area: ribbonAround(pl, 0.46), HalfWidthM: 0.46, MeasuredFrom: "edge", Rule: "local rule"}
	l.Caution = trace.Zone{Area: ribbonAround(pl, 0.7), Confidence: 0.95}
	return l
}

// ribbonAround is a plain strip along a path, good enough to look at.
func ribbonAround(pl geo.Polyline, half float64) orb.MultiPolygon {
	var left, right orb.Ring
	for i, q := range pl.Points {
		d := pl.Direction(pl.Station(i))
		left = append(left, orb.Point{q.X - d.Y*half, q.Y + d.X*half})
		right = append(right, orb.Point{q.X + d.Y*half, q.Y - d.X*half})
	}
	ring := append(orb.Ring{}, right...)
	for i := len(left) - 1; i >= 0; i-- {
		ring = append(ring, left[i])
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

// Straight is a path of n points over a length, in a direction from east.
func Straight(lengthM, bearingRad float64, n int) []geo.XY {
	s, c := math.Sincos(bearingRad)
	out := make([]geo.XY, n)
	for i := range out {
		d := lengthM * float64(i) / float64(n-1)
		out[i] = geo.XY{X: d * c, Y: d * s}
	}
	return out
}

// Winding is a long path that wanders, as along a road.
func Winding(lengthM float64) []geo.XY {
	var out []geo.XY
	at, dir := geo.XY{}, 0.6
	for s := 0.0; s <= lengthM; s += 5 {
		out = append(out, at)
		dir += 0.05 * math.Sin(s/90)
		at = at.Add(geo.XY{X: 5 * math.Cos(dir), Y: 5 * math.Sin(dir)})
	}
	return out
}

// Loop is a closed path.
func Loop(radiusM float64) []geo.XY {
	var out []geo.XY
	for i := range 61 {
		s, c := math.Sincos(float64(i) / 60 * 2 * math.Pi)
		out = append(out, geo.XY{X: radiusM * c, Y: radiusM * s})
	}
	return out
}

// NothingUsable is a job whose readings were all set aside.
func NothingUsable() *trace.Sheet {
	s := Of(geo.Metric, Straight(20, 0.3, 11))
	l := &s.Lines[0]
	l.Centerline, l.Tolerance, l.Caution = nil, trace.Zone{}, trace.Zone{}
	for i := range l.Readings {
		r := &l.Readings[i]
		r.Status, r.Reason, r.StationM, r.OffsetM = trace.StatusSetAside, trace.Verbatim("dead reckoning: no position fix"), trace.Unknown, trace.Unknown
	}
	s.Counts = trace.Counts{Rows: 12, SetAside: 11, Unreadable: 1}
	s.Problems = []trace.Problem{{File: "a.csv", Row: 4, Column: 3, Field: "lat", Value: "north", Cause: "this is not a number", Hint: "write decimal degrees"}}
	return s
}

// LongNames is a job in which every name has 200 characters.
func LongNames() *trace.Sheet {
	s := Of(geo.Metric, Straight(30, 0, 7), Straight(20, 1.2, 5))
	name := func(c string) string { return strings.Repeat(c, 200) }
	s.Job.Ticket, s.Job.Area, s.Job.Locator = name("T"), strings.Repeat("Ö long area ", 17), name("ł")
	s.Name, s.Version, s.Job.Tolerance.Rule = name("j"), name("9"), name("r ")
	s.Lines[0].Setup.Name, s.Lines[1].Setup.Name = name("A"), strings.Repeat("Б-1 ", 50)
	s.Lines[0].Setup.Material = name("m")
	s.Inputs[0].Name = name("f")
	s.Advice = []trace.Advice{{Remark: trace.Verbatim(name("x "))}, {Remark: trace.Verbatim(name("y"))}}
	s.Lines[0].Findings = []trace.Finding{
		finding.Crossing{Line: name("A"), Other: s.Lines[1].Setup.Name, At: geo.XY{X: 1}, StationM: 1, DepthDifferenceM: trace.Unknown},
		finding.BleedOver{Line: name("A"), FromM: 5, ToM: 12, Path: Straight(12, 0, 13)[5:], Grade: trace.GradeSuspect, Neighbor: s.Lines[1].Setup.Name,
			SeparationM: 1, Evidence: []trace.Remark{trace.Verbatim(name("e"))}, LikelyShiftM: 0.1, Shift95M: 0.1, LikelySide: trace.Right},
	}
	return s
}
