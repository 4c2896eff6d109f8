// Package sample is an invented Sheet with one of everything, for tests of the
// output formats. Its lines are drawn, not fitted.
package sample

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Sheet returns a job of three lines along an invented street: a water line
// with an elbow, a sweep, a gap, a suspected stretch and an exposed point; a
// gas line beside it; and a short communication line across both whose name
// wants escaping.
func Sheet() *trace.Sheet {
	job := trace.DefaultJob()
	job.Ticket, job.Date, job.ValidUntil = "T-2041", "2026-05-12", "2026-06-11"
	job.Locator, job.Area = "R. Example", "Lantern Row, between Mill Lane and the pond"
	job.Datum, job.Epoch, job.AntennaGap = "NAD83(2011)", 2026.36, 0.40
	job.Tolerance.Rule = "common best practice; local law takes precedence"
	plane := geo.NewPlane(geo.LonLat{LonDeg: -71.5020, LatDeg: 44.1030})

	water := waterLine()
	gas := gasLine()
	comm := commLine()
	crossing := finding.Crossing{Line: "W-1", Other: "C <7> & \"spare\"", At: geo.XY{X: 24, Y: 0.07},
		StationM: 24, OtherStationM: 6.19, SeparationM: 0, DepthDifferenceM: -0.55, DepthsOffM: 0.24}
	water.Findings = append(water.Findings, crossing)

	s := &trace.Sheet{
		Name: "lantern-row", Version: "0.0.0-sample", Job: job, Plane: plane,
		Frame: geo.Plain("Positions came in NAD83(2011) at epoch 2026.36 and were moved to WGS 84 (ITRF2014) by the published 14-parameter transformation."),
		Inputs: []trace.Input{
			{Name: "lantern-row.csv", SHA256: "2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae", Kind: trace.InputTable},
			{Name: "lantern-row.toml", SHA256: "fcde2b2edba56bf408601fb721fe9b5c338d10ee429ea04fae5511b68fbf8fb9", Kind: trace.InputJobFile},
		},
		Lines: []trace.Line{water, gas, comm},
		Records: []trace.Record{{Name: "main 12", Source: "town-water.geojson", Utility: trace.Water,
			Path: []geo.XY{{X: -5, Y: 1.6}, {X: 30, Y: 1.5}, {X: 45, Y: 1.4}}, DepthM: []float64{1.2, 1.2, trace.Unknown}}},
		Features: []trace.Feature{
			{Name: "hydrant 12", Path: []geo.XY{{X: 8, Y: 6.2}}}, {Name: "pole 4", Path: []geo.XY{{X: 31, Y: -7.5}}},
			{Name: "kerb corner", Path: []geo.XY{{X: 55.5, Y: 4.1}}}, {Name: "gate post", Path: []geo.XY{{X: 72, Y: 14}}},
		},
		Problems: []trace.Problem{{File: "lantern-row.csv", Row: 17, Column: 22, Field: "depth_m", Value: "l.04",
			Cause: "this is not a number", Hint: "the depth was left out; the position is used", Warn: true}},
		Cautions: []string{
			"This map is not a locate and does not replace notice to the one-call centre (811 in the US).",
			"Positions are approximate. Dig by hand or vacuum inside the zone until the line is seen.",
			"Depths are estimates with their own date. Expose to verify.",
		},
		Advice: []trace.Advice{
			{Line: "W-1", FromM: 12, ToM: 21, Kind: trace.AdviseBleed, Remark: remark.BleedItem{Line: "W-1", Stretches: []remark.Stretch{{FromM: 12, ToM: 21}}, Grade: trace.GradeStrong,
				From: "G-1", LeavesM: trace.Unknown, Reach: remark.Reach{LeftM: [2]float64{1.2, 1.2}, RightM: [2]float64{1.2, 1.2}, Known: true}}},
			{Line: "W-1", FromM: 40, ToM: 52, Kind: trace.AdviseGap, Remark: remark.LookAt{Line: "W-1", Finding: notTraced()}},
		},
	}
	for i := range s.Lines {
		s.Lines[i].Reach = reachOf(&s.Lines[i])
	}
	for _, l := range s.Lines {
		for i, r := range l.Readings {
			l.Readings[i].Geographic = plane.LonLat(r.Pos)
			s.Counts.Rows++
			switch r.Status {
			case trace.StatusUsed:
				s.Counts.Used++
			case trace.StatusSetAside:
				s.Counts.SetAside++
			case trace.StatusCheck:
				s.Counts.Check++
			case trace.StatusExposed:
				s.Counts.Exposed++
			}
		}
	}
	s.Counts.Rows++
	s.Counts.Unreadable = 1
	return s
}

// reachOf is how far a caution zone reaches: the tolerance zone, the band, and what a
// suspicion adds on its side.
func reachOf(l *trace.Line) []trace.ZoneReach {
	var out []trace.ZoneReach
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			r := trace.ZoneReach{StationM: v.StationM, LeftM: l.Tolerance.HalfWidthM + v.Horizontal95M, RightM: l.Tolerance.HalfWidthM + v.Horizontal95M}
			for _, f := range l.Findings {
				if b, ok := f.(finding.BleedOver); ok && b.FromM <= v.StationM && v.StationM <= b.ToM {
					r.LeftM, r.RightM = r.LeftM+b.WidenLeftM, r.RightM+b.WidenRightM
				}
			}
			out = append(out, r)
		}
	}
	return out
}

func waterLine() trace.Line {
	var first, second []geo.XY
	for x := 0.0; x <= 40; x += 2 {
		first = append(first, geo.XY{X: x, Y: 0.15 * math.Sin(x/8)})
	}
	// Beyond the gap: a straight, an elbow north, a sweep to the east.
	for x := 52.0; x <= 60; x += 2 {
		second = append(second, geo.XY{X: x, Y: -0.1})
	}
	for y := 2.0; y <= 16; y += 2 {
		second = append(second, geo.XY{X: 60, Y: y})
	}
	for a := 15.0; a <= 90; a += 15 {
		r := a * math.Pi / 180
		second = append(second, geo.XY{X: 70 - 10*math.Cos(r), Y: 16 + 10*math.Sin(r)})
	}
	l := line("W-1", trace.Water, 6*geo.InchM, "ductile iron", first, second)
	l.Centerline.Notes = []trace.Remark{remark.AccuracyOptimistic{StatedM: 0.02, FoundM: 0.05}}
	for i := range l.Centerline.Parts[0].Vertices {
		v := &l.Centerline.Parts[0].Vertices[i]
		v.DepthM = 1.04 + 0.2*v.StationM/40
	}
	corner := &l.Centerline.Parts[1].Vertices[4]
	corner.Corner = true
	st := geo.NewPolyline(first)
	l.Findings = []trace.Finding{
		finding.BleedOver{Line: "W-1", FromM: 12, ToM: 21, Path: st.Slice(12, 21), Grade: trace.GradeStrong, Score: 0.97,
			Neighbor: "G-1", SeparationM: 0.9, Evidence: []trace.Remark{
				remark.NullOffset{OffsetM: 0.14, BandM: 0.03, Side: trace.Right, N: 5},
				remark.DepthAndCurrent{LnDepth: 0.2, LnCurrent: 0.3},
				remark.CurrentIn{Share: remark.Share{Times: 0.4, Least: 0.3, Most: 0.5}, Neighbor: "G-1", AsideM: 0.9, Side: trace.Right},
			}, LikelyShiftM: 0.08, Shift95M: 0.05, LikelySide: trace.Left, WidenLeftM: 0.13},
		finding.BleedOver{Line: "W-1", FromM: 21, ToM: 30, Path: st.Slice(21, 30), Grade: trace.GradeWatch, Score: 0.55,
			Neighbor: "G-1", SeparationM: 1.3, Evidence: []trace.Remark{remark.CloseRun{Depths: 1.2, AsideM: 1.3, LengthM: 9, Neighbor: "G-1", Blind: true}},
			LikelyShiftM: trace.Unknown, Shift95M: trace.Unknown, WidenLeftM: 0.05, WidenRightM: 0.05},
		notTraced(first[len(first)-1], second[0]),
		finding.FieldCheck{Line: "W-1", Kind: trace.CheckLift, At: first[3], StationM: 6, Outcome: trace.OutcomePassed,
			Remark: remark.Lift{RaiseM: 0.30, GrowthM: 0.31, SignalRatio: 0.78, AloneRatio: 0.78, Shows: remark.LiftNothing}},
		finding.ExposedCheck{Line: "W-1", Point: "17", At: first[17], StationM: 34, OffsetM: 0.06, DepthDifferenceM: 0.08,
			Remark: remark.ExposedFound{StationM: 34, OffsetM: 0.06, DepthDifferenceM: 0.08}},
		finding.RecordDifference{Line: "W-1", Record: "main 12", FromM: 0, ToM: 40, Path: first,
			MeanOffsetM: -1.5, LargestOffsetM: -1.7, AllowedM: 0.6},
	}
	l.Checked = []trace.Remark{remark.NotChecked{Check: remark.CheckDirection}}
	l.Readings[17].Status, l.Readings[17].Exposed = trace.StatusExposed, true
	l.Readings[3].Status, l.Readings[3].RaiseM = trace.StatusCheck, 0.30
	l.Readings[8].Status, l.Readings[8].Reason = trace.StatusSetAside, remark.Outlier{From: remark.FromLine, OffM: 4.2}
	l.Readings[8].Pos.Y += 4.2
	return l
}

func notTraced(path ...geo.XY) finding.Gap {
	return finding.Gap{Line: "W-1", FromM: 40, ToM: 52, Path: path, Why: remark.NotTraced{OverM: 12}}
}

func gasLine() trace.Line {
	var path []geo.XY
	for x := -2.0; x <= 62; x += 4 {
		path = append(path, geo.XY{X: x, Y: -1.0 - 0.01*x})
	}
	return line("G-1", trace.Gas, trace.Unknown, "", path)
}

func commLine() trace.Line {
	var path []geo.XY
	for y := -6.0; y <= 8; y += 2 {
		path = append(path, geo.XY{X: 24 + 0.2*y, Y: y})
	}
	l := line("C <7> & \"spare\"", trace.Communication, 0.05, "", path)
	for i := range l.Centerline.Parts[0].Vertices {
		v := &l.Centerline.Parts[0].Vertices[i]
		v.DepthM, v.Depth95M = trace.Unknown, trace.Unknown
	}
	return l
}

func line(name string, u trace.Utility, diameterM float64, material string, parts ...[]geo.XY) trace.Line {
	setup := trace.LineSetup{Name: name, Utility: u, DiameterM: diameterM, Material: material,
		Hookup: trace.HookupDirect, FreqHz: 8192, PowerW: 1}
	half := 18*geo.InchM + 0.025
	if trace.Known(diameterM) {
		half = 18*geo.InchM + diameterM/2
	}
	c := &trace.Centerline{}
	l := trace.Line{Setup: setup, Centerline: c}
	station := 0.0
	var last geo.XY
	for k, path := range parts {
		if k > 0 {
			station += last.Dist(path[0])
		}
		var p trace.Part
		for i, xy := range path {
			if i > 0 {
				station += path[i-1].Dist(xy)
			}
			v := trace.Vertex{Pos: xy, StationM: station, DepthM: 1.1, Depth95M: 0.12,
				Horizontal95M: 0.08 + 0.05*math.Abs(math.Sin(station/9)), Common95M: 0.05, ElevM: trace.Unknown}
			p.Vertices = append(p.Vertices, v)
			r := trace.NewReading()
			r.Row, r.Line, r.Point = int32(len(l.Readings)+2), name, strconv.Itoa(len(l.Readings))
			r.Pos, r.StationM, r.OffsetM = xy.Add(geo.XY{Y: 0.03 * math.Sin(3*station)}), station, 0.03*math.Sin(3*station)
			r.DepthM, r.CurrentMA, r.FreqHz, r.Hookup = 1.1+0.05*math.Sin(station), 80-station/4, 8192, trace.HookupDirect
			r.Fix, r.HAccM, r.Status = trace.FixRTK, 0.02, trace.StatusUsed
			l.Readings = append(l.Readings, r)
		}
		last = path[len(path)-1]
		c.Parts = append(c.Parts, p)
		l.Tolerance.Area = append(l.Tolerance.Area, ribbon(path, half))
		l.Caution.Area = append(l.Caution.Area, ribbon(path, half+0.15))
	}
	l.Tolerance.HalfWidthM, l.Tolerance.MeasuredFrom, l.Tolerance.Rule = half, "edge", "common best practice; local law takes precedence"
	l.Caution.Confidence = 0.95
	return l
}

// ribbon offsets a gentle path to both sides: good enough for a picture.
func ribbon(path []geo.XY, half float64) orb.Polygon {
	pl := geo.NewPolyline(path)
	var left, right []orb.Point
	for i, q := range path {
		d := pl.Direction(pl.Station(i))
		n := geo.XY{X: -d.Y, Y: d.X}.Scale(half)
		left = append(left, orb.Point{q.X + n.X, q.Y + n.Y})
		right = append(right, orb.Point{q.X - n.X, q.Y - n.Y})
	}
	ring := append(orb.Ring{}, right...)
	for i := len(left) - 1; i >= 0; i-- {
		ring = append(ring, left[i])
	}
	return orb.Polygon{append(ring, ring[0])}
}
