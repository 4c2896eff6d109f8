package bleed_test

import (
	"context"
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

// coupled is a straight line along X, one metre deep, read every 2 m, with a
// neighbour a metre to its left that carries a share of its current between
// two stations. Columns come from the field of two long lines; a repeating
// pattern stands in for noise.
func coupled(share, fromM, toM float64) (bleed.Line, *bleed.Index) {
	var line bleed.Line
	line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	noise := func(i int) float64 { return pattern[i%len(pattern)] }
	nan := math.NaN()
	b := bleed.Path{Name: "B"}
	for i := range 50 {
		x := 2 * float64(i)
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: complex(0.1*math.Exp(-0.002*x), 0)}}}
		if x >= fromM && x <= toM {
			s.Lines = append(s.Lines, receiver.Conductor{XM: -1, DepthM: 1, CurrentA: complex(share, 0) * s.Lines[0].CurrentA})
		}
		shown := s.Survey(0, 0.4)
		pos := geo.XY{X: x, Y: -shown.PeakM + 0.01*noise(i+3)}
		line.Points = append(line.Points, pos)
		line.DepthM, line.SigmaM = append(line.DepthM, shown.DepthM), append(line.SigmaM, 0.03)
		d := shown.DepthM * math.Exp(0.02*noise(i))
		line.Readings = append(line.Readings, trace.Reading{
			Pos: pos, StationM: x, HAccM: 0.02, Fix: 4, DepthM: d, CurrentMA: 1000 * shown.CurrentA * d / shown.DepthM,
			Signal: nan, SignalLow: nan, SignalHigh: nan, NullOffsetM: shown.NullOffsetM + 0.03*noise(i+5),
			FreqHz: 8192, Hookup: "direct",
		})
		b.Points = append(b.Points, geo.XY{X: x, Y: 1})
		b.DepthM, b.SigmaM = append(b.DepthM, 1), append(b.SigmaM, 0.05)
	}
	return line, bleed.NewIndex([]bleed.Path{line.Path, b})
}

func detect(t *testing.T, line bleed.Line, ix *bleed.Index) bleed.Report {
	t.Helper()
	rep, err := bleed.Detect(context.Background(), line, ix)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

func TestFindsCoupling(t *testing.T) {
	for _, share := range []float64{0.4, -0.4} {
		line, ix := coupled(share, 30, 60)
		rep := detect(t, line, ix)
		var found []bleed.Stretch
		for _, s := range rep.Stretches {
			if s.Grade != trace.GradeWatch {
				found = append(found, s)
			}
		}
		if len(found) != 1 {
			t.Fatalf("share %+.1f: found %d stretches above watch, want 1: %+v", share, len(found), rep.Stretches)
		}
		s := found[0]
		if s.Neighbor != "B" || math.Abs(s.FromM-30) > 4 || math.Abs(s.ToM-60) > 4 {
			t.Errorf("share %+.1f: %s from %.0f to %.0f, want B from 30 to 60", share, s.Neighbor, s.FromM, s.ToM)
		}
		// The same way, the mark is drawn left, towards the neighbour, so the
		// line lies right of it; opposed, the other way round.
		side := map[bool]string{true: "right", false: "left"}[share > 0]
		if string(s.Side) != side {
			t.Errorf("share %+.1f: true line %q of the mark, want %q", share, s.Side, side)
		}
		if len(s.Evidence) == 0 || len(rep.Advice) == 0 {
			t.Errorf("share %+.1f: no evidence or no advice in words", share)
		}
	}
}

func TestCloseButQuietIsWatched(t *testing.T) {
	line, ix := coupled(0, 30, 60)
	rep := detect(t, line, ix)
	if len(rep.Stretches) != 1 || rep.Stretches[0].Grade != trace.GradeWatch {
		t.Fatalf("want one watch stretch along the close neighbour, got %+v", rep.Stretches)
	}
	if w := strings.Join(words.Remarks(geo.Metric, rep.Stretches[0].Evidence), " "); strings.Contains(w, "clean") || strings.Contains(w, "verified") {
		t.Errorf("words promise too much: %s", w)
	}
}

func TestNoNeighbourNoSign(t *testing.T) {
	line, _ := coupled(0, 30, 60)
	if rep := detect(t, line, bleed.NewIndex(nil)); len(rep.Stretches) != 0 {
		t.Errorf("quiet line alone: %+v", rep.Stretches)
	}
}

func TestContextEnds(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	line, ix := coupled(0.4, 30, 60)
	if _, err := bleed.Detect(ctx, line, ix); err == nil {
		t.Error("a cancelled context gave no error")
	}
}

// Depth alone shows a neighbour that carries much, even where no other column
// came with it.
func TestFindsCouplingByDepthAlone(t *testing.T) {
	line, ix := coupled(-0.25, 30, 60)
	for i := range line.Readings {
		line.Readings[i].CurrentMA, line.Readings[i].NullOffsetM = math.NaN(), math.NaN()
	}
	rep := detect(t, line, ix)
	if len(rep.Stretches) == 0 || !slices.ContainsFunc(rep.Stretches, func(s bleed.Stretch) bool {
		return s.Grade != trace.GradeWatch && s.FromM < 36 && s.ToM > 54
	}) {
		t.Errorf("want a stretch above watch over 36 to 54 m, got %+v", rep.Stretches)
	}
	// A quarter of the current a depth away moves the mark by 6 cm and the depth by
	// 14 % (field of two long lines): coupled, and not dangerous.
	for _, s := range rep.Stretches {
		if s.Score >= 0.6 {
			t.Errorf("a score of %.2f for a displacement of 0.06 m", s.Score)
		}
	}
}

// A strong opposed current makes depth read a third shallower, one the same way
// draws the mark far to its side; the displacement is that of the true depth, not
// of the depth read.
func TestDisplacementBesideStrongCurrents(t *testing.T) {
	for _, share := range []float64{-0.75, 0.85} {
		lines := []receiver.Conductor{{DepthM: 1, CurrentA: 1}, {XM: -1, DepthM: 1, CurrentA: complex(share, 0)}}
		want := math.Abs(receiver.Section{Lines: lines}.Survey(0, 0.4).PeakM)
		line, ix := coupled(share, 30, 60)
		found := detect(t, line, ix).Stretches
		i := slices.IndexFunc(found, func(s bleed.Stretch) bool { return s.Grade != trace.GradeWatch })
		if i < 0 {
			t.Errorf("share %+.2f: found nothing above watch", share)
			continue
		}
		if s := found[i]; s.ShiftM < 0.75*want || s.ShiftM > 1.35*want {
			t.Errorf("share %+.2f: displaced by %.3f ± %.3f m, want about %.3f", share, s.ShiftM, s.Shift95M, want)
		}
	}
}
