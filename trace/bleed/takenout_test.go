package bleed

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// A coupling that was found is taken out of all columns before the next is sought: two
// stretches beside one neighbour are found as two, each once, and nothing else.
func TestEachCouplingIsFoundOnce(t *testing.T) {
	var line Line
	line.Name, line.AntennaGapM, line.Exclude = "A", 0.4, []int{0}
	pattern := []float64{0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.7, -0.2, 0.9, -0.9, 0.1}
	b := Path{Name: "B"}
	for i := range 90 {
		noise := func(at int) float64 { return pattern[(i+at)%len(pattern)] }
		x := 2 * float64(i)
		s := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 0.1}}}
		if x >= 30 && x <= 60 || x >= 110 && x <= 140 {
			s.Lines = append(s.Lines, receiver.Conductor{XM: -1, DepthM: 1, CurrentA: 0.05})
		}
		shown := s.Survey(0, 0.4)
		pos := geo.XY{X: x, Y: -shown.PeakM + 0.01*noise(3)}
		line.Points, line.DepthM, line.SigmaM = append(line.Points, pos), append(line.DepthM, shown.DepthM), append(line.SigmaM, 0.03)
		r := trace.NewReading()
		r.Pos, r.StationM, r.HAccM, r.Fix, r.FreqHz, r.Hookup = pos, x, 0.02, 4, 8192, trace.HookupDirect
		r.DepthM = shown.DepthM * math.Exp(0.02*noise(0))
		r.CurrentMA, r.NullOffsetM = 1000*shown.CurrentA*r.DepthM/shown.DepthM, shown.NullOffsetM+0.03*noise(5)
		line.Readings = append(line.Readings, r)
		b.Points, b.DepthM, b.SigmaM = append(b.Points, geo.XY{X: x, Y: 1}), append(b.DepthM, 1), append(b.SigmaM, 0.05)
	}
	line.rd = inStationOrder(line.Readings)
	col := newColumns(line)
	all := append(NewIndex([]Path{line.Path, b}).neighbours(line, col), neighbour{name: Unknown, path: -1})
	found, _ := col.inWindow(all, 0, len(col.rd))
	var at []float64
	for _, f := range found {
		at = append(at, col.rd[f.from].StationM, col.rd[f.to].StationM)
	}
	if len(found) != 2 {
		t.Fatalf("found from and to %v, want 30 to 60 m and 110 to 140 m", at)
	}
	for _, f := range found {
		from := 30.0
		if col.rd[f.from].StationM > 80 {
			from = 110
		}
		if math.Abs(col.rd[f.from].StationM-from) > 6 || math.Abs(col.rd[f.to].StationM-from-30) > 6 {
			t.Errorf("found from and to %v, want 30 to 60 m and 110 to 140 m", at)
		}
	}
}
