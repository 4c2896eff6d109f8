package locate

import (
	"context"
	"math"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// spokes is a walk out and back along each of n spokes so many metres long, from start to start.
func spokes(n, longM int, start, way func(k int) geo.XY) (at []geo.XY) {
	for k := range n {
		for i := range 2*longM + 1 {
			at = append(at, start(k).Add(way(k).Scale(float64(longM)-math.Abs(float64(i-longM)))))
		}
	}
	return at
}

// walkShapes are walks that no smooth line holds, in metres, a reading each.
var walkShapes = map[string][]geo.XY{
	"jogs": jogs(41),
	"star": spokes(8, 9, func(int) geo.XY { return geo.XY{} }, func(k int) geo.XY {
		sin, cos := math.Sincos(math.Pi/2 + float64(k)*math.Pi/4)
		return geo.XY{X: cos, Y: sin}
	}),
	"comb": spokes(6, 4, func(k int) geo.XY { return geo.XY{X: 2 * float64(k)} }, func(int) geo.XY { return geo.XY{Y: 1} }),
}

// jogs goes two metres on and two aside, to the left and to the right in turn.
func jogs(n int) (at []geo.XY) {
	aside := []float64{0, 0, 0, 1, 2, 2, 2, 1}
	x := 0.0
	for i := range n {
		at = append(at, geo.XY{X: x, Y: aside[i%8]})
		if aside[i%8] == aside[(i+1)%8] {
			x++
		}
	}
	return at
}

// walkOver is an RTK walk over places, with times, 1 m deep.
func walkOver(at []geo.XY) []trace.Reading {
	const perDegM = 111120.0
	rs := make([]trace.Reading, len(at))
	for i, p := range at {
		r := trace.NewReading()
		r.Row, r.Line, r.Fix, r.HAccM, r.DepthM = int32(i+2), "A", trace.FixRTK, 0.015, 1
		r.Time = time.Date(2026, 5, 12, 8, 0, 5*i, 0, time.UTC)
		r.Geographic = geo.LonLat{LonDeg: -30.5 + p.X/(perDegM*math.Cos(44.1*math.Pi/180)), LatDeg: 44.1 + p.Y/perDegM}
		rs[i] = r
	}
	return rs
}

// An exposure where no smooth line holds the walk: at a reading, with its depth or without
// one, or beside it.
func exposedOn(rs []trace.Reading, depthM, asideM float64) []trace.Reading {
	x := rs[11]
	x.Row, x.Exposed, x.DepthM, x.Time = 1000, true, depthM, x.Time.Add(24*time.Hour)
	x.Geographic.LonDeg += asideM / 111120 / math.Cos(44.1*math.Pi/180)
	return append(rs, x)
}

func countOf[T any](all []trace.Remark) (n int) {
	for _, r := range all {
		if on, ok := r.(remark.OnLine); ok {
			r = on.What
		}
		if _, is := r.(T); is {
			n++
		}
	}
	return n
}

// whatIsTold are the remarks under Check before digging.
func whatIsTold(s *trace.Sheet) (out []trace.Remark) {
	for _, a := range s.Advice {
		out = append(out, a.Remark)
	}
	return out
}

// What no smooth line holds is joined from reading to reading, exposed or not: an exposure
// is one place, is told, and sets the depths; what was known of the line that was not kept
// goes with it.
func TestJoinedWithAnExposure(t *testing.T) {
	for shape, at := range walkShapes {
		for exposure, rs := range map[string][]trace.Reading{
			"none": walkOver(at), "with a depth": exposedOn(walkOver(at), 1, 0), "without a depth": exposedOn(walkOver(at), trace.Unknown, 0),
		} {
			s := builtFrom(t, rs)
			l, is := s.Lines[0], map[bool]int{true: 1}
			checks, doubts := 0, 0
			for _, f := range l.Findings {
				switch f := f.(type) {
				case finding.ExposedCheck:
					checks++
					if math.Abs(f.OffsetM) > 0.01 {
						t.Errorf("%s, %s: found %.2f m beside the line", shape, exposure, f.OffsetM)
					}
				case finding.Doubt:
					doubts += countOf[remark.Joined]([]trace.Remark{f.Why})
				}
			}
			want := trace.Counts{Rows: len(rs), Used: len(at), Exposed: is[exposure != "none"]}
			if s.Counts != want || checks != want.Exposed || doubts != 1 {
				t.Errorf("%s, %s: %+v, %d exposed_check, %d doubts that it is joined; want %+v", shape, exposure, s.Counts, checks, doubts, want)
			}
			notes := l.Centerline.Notes
			if countOf[remark.JoinedNote](notes) != 1 || countOf[remark.DepthsSet](notes) != is[exposure == "with a depth"] ||
				countOf[remark.AccuracyOptimistic](notes)+countOf[remark.DrawnOutside](notes)+countOf[remark.DepthsOutside](whatIsTold(s)) > 0 {
				t.Errorf("%s, %s: notes %q, told %q", shape, exposure, notes, adviceText(s))
			}
			if exposuresTold(s) > 0 {
				t.Errorf("%s, %s: told %q", shape, exposure, adviceText(s))
			}
			along := l.Centerline.Polyline().Index()
			for i := range l.Readings {
				if off := math.Abs(along.Nearest(l.Readings[i].Pos).OffsetM); off > 0.3 {
					t.Errorf("%s, %s: row %d lies %.2f m off the line", shape, exposure, l.Readings[i].Row, off)
				}
			}
		}
	}
}

// An exposure beside a line that is joined: the line goes through it, says so, and holds
// in its band what was read; for it turns, and an error seen across it is one along it
// a stride on.
func TestJoinedAndExposedBeside(t *testing.T) {
	for shape, at := range walkShapes {
		for _, asideM := range []float64{0.4, 1.5} {
			s := builtFrom(t, exposedOn(walkOver(at), 1, asideM))
			l := s.Lines[0]
			if countOf[remark.JoinedNote](l.Centerline.Notes) != 1 || countOf[remark.ExposedBeside](whatIsTold(s)) != 1 {
				t.Errorf("%s, %.1f m: %+v, %q", shape, asideM, s.Counts, adviceText(s))
				continue
			}
			along := l.Centerline.Polyline().Index()
			for i := range l.Readings {
				r := &l.Readings[i]
				f := along.Nearest(r.Pos)
				band := 0.05
				if !r.Exposed {
					band, _ = bandAt(l.Centerline, f.StationM)
				}
				if math.Abs(f.OffsetM) > band {
					t.Errorf("%s, %.1f m: row %d lies %.2f m off the line ± %.2f m", shape, asideM, r.Row, f.OffsetM, band)
				}
			}
		}
	}
}

// bandAt is the band of the vertex nearest to a station.
func bandAt(c *trace.Centerline, stationM float64) (half95M, depth95M float64) {
	nearest := math.Inf(1)
	for _, p := range c.Parts {
		for _, v := range p.Vertices {
			if d := math.Abs(v.StationM - stationM); d < nearest {
				nearest, half95M, depth95M = d, v.Horizontal95M, v.Depth95M
			}
		}
	}
	return half95M, depth95M
}

// A joined line says where its depths come from, and what was walked past its ends and
// shows the transmitter's field alone, as any other does.
func TestJoinedSaysWhatItsReadingsAre(t *testing.T) {
	at := jogs(61)
	rs := walkOver(at)
	for i := range rs {
		r := &rs[i]
		air := complex(fixture.DipoleT(3, 0.4+at[i].Norm()), 0)
		shown := receiver.Section{Lines: []receiver.Conductor{{DepthM: 0.8, CurrentA: 0.1}}, AirT: air}.Survey(0, 0.4)
		r.DepthM, r.SignalLow, r.SignalHigh, r.Hookup = trace.Unknown, 1e9*shown.LowT, 1e9*shown.HighT, trace.HookupInduction
	}
	job := trace.DefaultJob()
	job.AntennaGap = 0.4
	s, err := Build(context.Background(), trace.Source{Name: "a", Job: job, Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
	if err != nil {
		t.Fatal(err)
	}
	l, gaps := s.Lines[0], 0
	for _, f := range l.Findings {
		if g, ok := f.(finding.Gap); ok {
			gaps += countOf[remark.AirBeyond]([]trace.Remark{g.Why})
		}
	}
	notes := l.Centerline.Notes
	if countOf[remark.JoinedNote](notes) != 1 || countOf[remark.DepthsComputed](notes) != 1 || gaps != 1 {
		t.Errorf("%+v, %d gaps at the transmitter, notes %T", s.Counts, gaps, notes)
	}
}

// A line of which another was tried and not kept is the line that it was, with its readings
// where it had them.
func TestAJoinThatIsNotKept(t *testing.T) {
	var at []geo.XY
	for i := range 41 {
		at = append(at, geo.XY{X: float64((i + 1) / 2), Y: float64(i / 2)})
	}
	s := builtFrom(t, walkOver(at))
	l := s.Lines[0]
	if countOf[remark.JoinedNote](l.Centerline.Notes) > 0 || s.Counts.SetAside < lostEnough {
		t.Fatalf("%+v: nothing to try", s.Counts)
	}
	before := fatesOf(l.Readings)
	for i := range before {
		before[i].status, before[i].reason = trace.StatusUsed, nil
		l.Readings[i].StationM += 0.125 // as a fit has it that knows on which pass it lies
	}
	was := fatesOf(l.Readings)
	kept := orJoined(drawn{line: l}, before, s, nil)
	if kept.joined {
		t.Fatal("joined")
	}
	for i, f := range fatesOf(l.Readings) {
		if f.status != was[i].status || f.stationM != was[i].stationM || f.offsetM != was[i].offsetM {
			t.Errorf("row %d: %+v, was %+v", l.Readings[i].Row, f, was[i])
		}
	}
}
