package bleed_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/receiver"
)

// undrawn is a line along X read every 3 m with a conductor that nobody drew beside
// it, which carries a share of its current between two stations: as the field of two
// long lines has it. The locator searches from the line, or from the other conductor
// where he has gone over to it.
func undrawn(depthM float64, other receiver.Conductor, fromM, toM float64, over bool) (bleed.Line, []float64) {
	const gapM, lengthM, steps = 0.5, 180, 3
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	nan := math.NaN()
	var line bleed.Line
	var lies []float64 // the line, to the right of each mark
	line.Name, line.AntennaGapM, line.Exclude = "A", gapM, []int{0}
	station := 0.0
	for i := range lengthM/steps + 1 {
		noise := func(k int) float64 { return pattern[(i+k)%len(pattern)] }
		x := steps * float64(i)
		own := complex(0.1*math.Exp(-0.002*x), 0)
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: depthM, CurrentA: own}}}
		from := 0.0
		if x >= fromM && x <= toM {
			o := other
			o.CurrentA *= own
			s.Lines = append(s.Lines, o)
			if over {
				from = o.XM
			}
		}
		shown := s.Survey(from, gapM)
		pos := geo.XY{X: x, Y: -shown.PeakM + 0.015*noise(3)}
		if i > 0 {
			station += pos.Dist(line.Points[i-1])
		}
		line.Points, lies = append(line.Points, pos), append(lies, -shown.PeakM)
		d := shown.DepthM * math.Exp(0.02*noise(0))
		line.DepthM, line.SigmaM = append(line.DepthM, d), append(line.SigmaM, 0.03)
		line.Readings = append(line.Readings, trace.Reading{Pos: pos, StationM: station, HAccM: 0.02, Fix: 4, DepthM: d,
			CurrentMA: 1000 * shown.CurrentA * d / shown.DepthM, Signal: nan, SignalLow: nan, SignalHigh: nan,
			NullOffsetM: shown.NullOffsetM + 0.04*noise(5), FreqHz: 8192, Hookup: "direct"})
	}
	return line, lies
}

func suspectedOf(rep bleed.Report) []bleed.Stretch {
	return slices.DeleteFunc(slices.Clone(rep.Stretches), func(s bleed.Stretch) bool { return s.Grade == trace.GradeWatch })
}

// A conductor a third as deep as the line halves the depth shown and raises the
// current at the same places, which no neighbour near the line's own depth does.
func TestShallowConductorOverADeepLine(t *testing.T) {
	line, lies := undrawn(2.1, receiver.Conductor{XM: -0.6, DepthM: 0.67, CurrentA: 0.6}, 50, 130, false)
	found := suspectedOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})))
	if len(found) != 1 || math.Abs(found[0].FromM-50) > 8 || math.Abs(found[0].ToM-130) > 8 {
		t.Fatalf("want one stretch from 50 to 130 m, got %+v", found)
	}
	if mid := lies[30]; mid > found[0].WidenRightM || -mid > found[0].WidenLeftM {
		t.Errorf("the line lies %.2f m to the right of the mark, the caution reaches %.2f m left, %.2f m right", mid, found[0].WidenLeftM, found[0].WidenRightM)
	}
}

// A locator who goes over to a conductor on no map and stays on it, or comes back:
// his marks are told, and the line's own course is in the caution.
func TestGoesOverToWhatNobodyDrew(t *testing.T) {
	for _, toM := range []float64{130, 200} {
		line, lies := undrawn(0.7, receiver.Conductor{XM: 1.5, DepthM: 0.5, CurrentA: 1.6}, 60, toM, true)
		found := suspectedOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path})))
		i := slices.IndexFunc(found, func(s bleed.Stretch) bool { return s.Jump && math.Abs(s.FromM-60) < 8 })
		if i < 0 {
			t.Errorf("to %.0f m: no jump from 60 m: %+v", toM, found)
			continue
		}
		for k, r := range line.Readings {
			if r.StationM < found[i].FromM || r.StationM > found[i].ToM || math.Abs(lies[k]) < 0.3 { // about it the line drawn is the line
				continue
			}
			truth, held := geo.XY{X: r.Pos.X, Y: r.Pos.Y - lies[k]}, false
			for _, o := range found[i].Own {
				path := geo.NewPolyline(o.Path)
				held = held || math.Abs(path.Nearest(truth).OffsetM) < slices.Max(o.Half95M)
			}
			if !held {
				t.Errorf("to %.0f m: the line at %.0f m, %.2f m from the mark, is in no strip", toM, r.StationM, lies[k])
				break
			}
		}
	}
}

// A current that flows back beside the line up to a bond shows at the bond alone. It
// may as well flow along beyond it: where no null was read both sides are told.
func TestOneStepHasTwoSides(t *testing.T) {
	line, _ := undrawn(1, receiver.Conductor{XM: -0.9, DepthM: 1.1, CurrentA: -0.6}, -1, 120, false)
	for i := range line.Readings {
		line.Readings[i].NullOffsetM = math.NaN()
	}
	b := bleed.Path{Name: "B", Points: []geo.XY{{X: -10, Y: 0.9}, {X: 190, Y: 0.9}}, DepthM: []float64{1.1, 1.1}, SigmaM: []float64{0.1, 0.1}}
	found := suspectedOf(detect(t, line, bleed.NewIndex([]bleed.Path{line.Path, b})))
	covers := func(m float64) bool {
		return slices.ContainsFunc(found, func(s bleed.Stretch) bool { return s.FromM <= m && s.ToM >= m })
	}
	if !covers(60) || !covers(150) {
		t.Errorf("want stretches on both sides of the bond at 120 m, got %+v", found)
	}
	if !slices.ContainsFunc(found, func(s bleed.Stretch) bool {
		return strings.Contains(strings.Join(words.Remarks(geo.Metric, s.Evidence), " "), "either side may be")
	}) {
		t.Errorf("not told that either side may be another's: %+v", found)
	}
	sum := 0.0
	for _, s := range found {
		sum += s.Score
		if s.Grade == trace.GradeStrong {
			t.Errorf("%.0f to %.0f m is strong, and so may the other side be", s.FromM, s.ToM)
		}
	}
	if len(found) == 2 && sum > 1.5*max(found[0].Score, found[1].Score)+1e-9 {
		t.Errorf("scores of %.2f and %.2f, of which at most one is so", found[0].Score, found[1].Score)
	}
}

// A line that dives and loses current to a branch, near each other, does by itself
// what columns show (field of a thin wire bent in depth, by Biot and Savart).
func TestDiveAndTeeAreTheLinesOwn(t *testing.T) {
	between := func(x, from, to float64) float64 { return math.Max(0, math.Min(1, (x-from)/(to-from))) }
	dive := func(x float64) float64 { return 0.9 + 0.8*(between(x, 40, 46)-between(x, 90, 96)) }
	for _, teeM := range []float64{30, 60, 84} {
		tee := func(x float64) float64 {
			if x > teeM {
				return 0.06
			}
			return 0.1
		}
		quiet(t, fmt.Sprintf("dive from 40 to 96 m, tee at %.0f m", teeM), alone(dive, tee, 0.01))
	}
}
