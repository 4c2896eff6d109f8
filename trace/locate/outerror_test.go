package locate

import (
	"context"
	"math"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// walkOff is a straight walk to the east along a parallel, read every 2 m, whose
// positions all lie offM to the north of the line at latitude 44.1.
func walkOff(n int, offM, decimals float64) []trace.Reading {
	var rs []trace.Reading
	perDegM := 111120.0
	for i := range n {
		r := trace.NewReading()
		wobble := 0.012 * math.Sin(float64(7*i*i%23))
		r.Row, r.Line, r.DepthM = int32(i+2), "A", 1
		r.Geographic = geo.LonLat{LonDeg: -30.5 + 2*float64(i)/(perDegM*math.Cos(44.1*math.Pi/180)), LatDeg: 44.1000038 + (offM+wobble)/perDegM}
		if p := math.Pow(10, decimals); decimals > 0 {
			r.Geographic.LonDeg, r.Geographic.LatDeg = math.Round(r.Geographic.LonDeg*p)/p, math.Round(r.Geographic.LatDeg*p)/p
		}
		rs = append(rs, r)
	}
	return rs
}

func builtFrom(t *testing.T, rs []trace.Reading) *trace.Sheet {
	t.Helper()
	s, err := Build(context.Background(), trace.Source{Name: "a", Job: trace.DefaultJob(), Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
	if err != nil || s.Lines[0].Centerline == nil {
		t.Fatalf("no line: %v", err)
	}
	return s
}

// offNorth is how far the drawn line lies from the parallel at its worst, and
// its narrowest band.
func offNorth(s *trace.Sheet) (worstM, bandM float64) {
	bandM = math.Inf(1)
	for _, p := range s.Lines[0].Centerline.Parts {
		for _, v := range p.Vertices {
			ll := s.Plane.LonLat(v.Pos)
			worstM = math.Max(worstM, math.Abs(ll.LatDeg-44.1000038)*111120)
			bandM = math.Min(bandM, v.Horizontal95M)
		}
	}
	return worstM, bandM
}

// A track may lie off bodily by what its kind of position can be off, however
// little it wobbles: 8 m at 95 % for an autonomous receiver (GPS SPS Performance
// Standard 2020, from memory). It is in the band and told, and no rule's band is
// claimed; a stated centimetre is not an autonomous fix's.
func TestPositionsThatNothingBounds(t *testing.T) {
	for name, set := range map[string]func(*trace.Reading){
		"no column":           func(*trace.Reading) {},
		"autonomous":          func(r *trace.Reading) { r.Fix = trace.FixAutonomous },
		"autonomous, 1.5 cm":  func(r *trace.Reading) { r.Fix, r.HAccM = trace.FixAutonomous, 0.015 },
		"dilution only":       func(r *trace.Reading) { r.HDOP = 0.8 },
		"accuracy of nothing": func(r *trace.Reading) { r.HAccM = 0 },
	} {
		rs := walkOff(26, 4.8, 0)
		for i := range rs {
			set(&rs[i])
		}
		s := builtFrom(t, rs)
		if off, band := offNorth(s); off > band {
			t.Errorf("%s: %.2f m off at ± %.2f m", name, off, band)
		}
		if !strings.Contains(adviceText(s), "Nothing bounds the error") {
			t.Errorf("%s: not told: %q", name, adviceText(s))
		}
		for _, st := range words.Remarks(geo.Metric, s.Lines[0].Statements) {
			if strings.Contains(st, "QL-B") || strings.Contains(st, "class") && !strings.Contains(st, "no class of a standard") {
				t.Errorf("%s: %q", name, st)
			}
		}
	}
	for name, set := range map[string]func(*trace.Reading){
		"RTK": func(r *trace.Reading) { r.Fix = trace.FixRTK }, "RTK, 1.5 cm": func(r *trace.Reading) { r.Fix, r.HAccM = trace.FixRTK, 0.015 }, "1.5 cm": func(r *trace.Reading) { r.HAccM = 0.015 },
	} {
		rs := walkOff(26, 0, 0)
		for i := range rs {
			set(&rs[i])
		}
		s := builtFrom(t, rs)
		if _, band := offNorth(s); band > 0.05 || strings.Contains(adviceText(s), "bounds") {
			t.Errorf("%s: ± %.3f m, %q", name, band, adviceText(s))
		}
	}
}

// Four decimals of a degree of latitude are 11 m, five 1.1 m: the line may lie
// half a step off, and the map says so. Seven decimals hide nothing.
func TestRoundedPositions(t *testing.T) {
	for decimals, tell := range map[float64]bool{4: true, 5: true, 6: true, 7: false, 8: false} {
		rs := walkOff(60, 0, decimals)
		for i := range rs {
			rs[i].Fix, rs[i].HAccM = trace.FixRTK, 0.015
		}
		s := builtFrom(t, rs)
		if off, band := offNorth(s); off > band {
			t.Errorf("%v decimals: %.3f m off at ± %.3f m", decimals, off, band)
		}
		if got := strings.Contains(adviceText(s), "rounded"); got != tell {
			t.Errorf("%v decimals: told %v: %q", decimals, got, adviceText(s))
		}
	}
}

// Eastings and northings in whole feet hide half a foot; in centimetres nothing
// worth a word.
func TestRoundedGrid(t *testing.T) {
	for _, c := range []struct {
		stepM float64
		tell  bool
	}{{geo.FootM, true}, {1200.0 / 3937, true}, {0.1, true}, {0.01, false}} {
		rs := walkOff(40, 0, 0)
		for i := range rs {
			r := &rs[i]
			r.Projected = [2]float64{c.stepM * math.Round((400000+2*float64(i))/c.stepM), c.stepM * math.Round((4900000.37+0.001*float64(i%3))/c.stepM)}
			r.Geographic, r.Fix, r.HAccM = geo.LonLat{LonDeg: trace.Unknown, LatDeg: trace.Unknown}, trace.FixRTK, 0.01
		}
		job := trace.DefaultJob()
		job.CRS = "EPSG:32618"
		s, err := Build(context.Background(), trace.Source{Name: "a", Job: job, Readings: rs, Inputs: []trace.Input{{Name: "a.csv"}}})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(adviceText(s), "rounded"); got != c.tell {
			t.Errorf("steps of %.4f m: told %v: %q", c.stepM, got, adviceText(s))
		}
		if v := s.Lines[0].Centerline.Parts[0].Vertices[0]; v.Horizontal95M < 0.45*c.stepM {
			t.Errorf("steps of %.4f m: ± %.4f m", c.stepM, v.Horizontal95M)
		}
	}
}

// Depths in coarse steps hide half a step, however many readings show the same figure, and
// a few of another figure are no spikes. The widest hidden of the true depth is at the edge
// of a figure's step. What is less than half of the rest of the band is not worth a word.
func TestRoundedDepths(t *testing.T) {
	for _, c := range []struct {
		stepM, trueM float64
		told         bool
	}{{1, 0.55, true}, {1, 1.45, true}, {0.5, 0.77, true}, {0.25, 0.65, true}, {0.2, 0.71, true}, {geo.FootM, 0.77, true}, {geo.FootM / 2, 1.13, false}, {0.01, 1.23, false}} {
		rs := walkOff(30, 0, 0)
		for i := range rs {
			rs[i].Fix, rs[i].HAccM = trace.FixRTK, 0.015
			scatter := 0.03 * (float64(7*i%11)/5 - 1)
			rs[i].DepthM = c.stepM * math.Round(c.trueM*(1+scatter)/c.stepM)
		}
		l := builtFrom(t, rs).Lines[0]
		for _, v := range l.Centerline.Parts[0].Vertices {
			if math.Abs(v.DepthM-c.trueM) > v.Depth95M {
				t.Errorf("steps of %.4f m: %.2f ± %.2f m drawn, true %.2f", c.stepM, v.DepthM, v.Depth95M, c.trueM)
			}
			if v.Depth95M < c.stepM/2 {
				t.Errorf("steps of %.4f m: ± %.2f m", c.stepM, v.Depth95M)
			}
		}
		if notes := strings.Join(words.Remarks(geo.Metric, l.Centerline.Notes), " "); strings.Contains(notes, "depths are rounded") != c.told {
			t.Errorf("steps of %.4f m: told %v: %q", c.stepM, !c.told, notes)
		}
		for _, r := range l.Readings {
			if r.DepthDropped {
				t.Errorf("steps of %.4f m: the depth of row %d, %.2f m, was left out", c.stepM, r.Row, r.DepthM)
			}
		}
	}
}

func adviceText(s *trace.Sheet) string { return strings.Join(words.Advice(s), "\n") }
