package measure

import (
	"bytes"
	"context"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/study"
)

// The oracle's own band must hold the truth 95 % of the time over all families
// of a world: otherwise the simulator's noise is not what the tables say, or the
// oracle does not know it. Some 200 correlated traces leave about a percent of
// doubt. In the second world it is linear about rings and zig-zags, and knows
// neither how a stray locator's readings hang together nor which way the ground
// pulls depths.
func TestOracleKnowsTheNoise(t *testing.T) {
	for w, spread := range map[World]float64{FirstWorld: 0.03, SecondWorld: 0.04} {
		all := &Score{}
		for _, f := range w.Families() {
			if f.CarriesBleed {
				continue
			}
			one := &Score{}
			for seed := uint64(300); seed < 300+uint64(study.Of(2, 4)); seed++ {
				j, err := w.Make(f.Name, seed)
				if err != nil {
					t.Fatal(err)
				}
				from, to := span(j.Traces[0])
				s := ask(j, j.Traces[0], from, to)
				one.add(s)
				all.add(s)
			}
			h, d := one.Coverage()
			hw, dw := one.Width()
			t.Logf("%-6s %-22s across %.3f (%.3f) depth %.3f (%.3f) rmse %.3f %.3f", w, f.Name, h, hw, d, dw, one.RMSE(), one.DepthRMSE())
		}
		h, d := all.Coverage()
		if math.Abs(h-0.95) > spread || math.Abs(d-0.95) > spread {
			t.Errorf("the oracle's bands hold %.3f of places across and %.3f of depths in the %s world, want 0.95 ± %.2f", h, d, w, spread)
		}
	}
}

// Every scripted smoother but the moving average's ends gives a straight line
// back, and all of them lower white noise.
func TestBaselinesSmooth(t *testing.T) {
	var x, line, rough []float64
	for i := range 60 {
		x = append(x, float64(i)*2+0.3*math.Sin(float64(i)))
		line = append(line, 3+0.25*x[i])
		rough = append(rough, line[i]+0.1*math.Sin(12.9898*float64(i*i)))
	}
	for name, f := range map[string]func(x, v []float64) []float64{"average": movingAverage, "lowess": lowess, "spline": spline} {
		var straight, before, after []float64
		got, exact := f(x, rough), f(x, line)
		for i := 3; i < 57; i++ {
			straight = append(straight, exact[i]-line[i])
			before, after = append(before, rough[i]-line[i]), append(after, got[i]-line[i])
		}
		if name != "average" && rms(straight) > 1e-6 {
			t.Errorf("%s bends a straight line by %g", name, rms(straight))
		}
		if rms(after) > 0.7*rms(before) {
			t.Errorf("%s leaves %.3f of %.3f", name, rms(after), rms(before))
		}
	}
}

// A curve drawn 0.2 m beside a straight line is 0.2 m off each way, and its
// band of 0.25 m holds the line, its depth band of 0.05 m not the depth.
func TestCompare(t *testing.T) {
	l := tracetest.Line{
		Path:    geo.NewPolyline([]geo.XY{{X: -10}, {X: 110}}),
		Profile: tracetest.Profile{Knots: []tracetest.Knot{{StationM: 0, DepthM: 1}, {StationM: 120, DepthM: 1}}},
	}
	c := curve{
		{{geo.XY{X: 0, Y: 0.2}, 1.1, 0.25, 0.05}, {geo.XY{X: 40, Y: 0.2}, 1.1, 0.25, 0.05}},
		{{geo.XY{X: 60, Y: 0.2}, 1.1, 0.25, 0.05}, {geo.XY{X: 100, Y: 0.2}, 1.1, 0.25, 0.05}},
	}
	s := compare(c, l, 10, 110)
	a, b := s.Worst()
	h, d := s.Coverage()
	if math.Abs(s.RMSE()-0.2) > 1e-9 || math.Abs(a-0.2) > 1e-9 || math.Abs(b-0.2) > 1e-9 {
		t.Errorf("off by %.3f, worst %.3f and %.3f, want 0.2", s.RMSE(), a, b)
	}
	if h != 1 || d != 0 || math.Abs(s.DepthRMSE()-0.1) > 1e-9 {
		t.Errorf("bands hold %.2f and %.2f, depth off by %.3f", h, d, s.DepthRMSE())
	}
	if n := len(s.back); n < 155 || n > 165 {
		t.Errorf("%d places along the true line, want about 161: the gap of 20 m is not claimed", n)
	}
}

// The same options give the same tables, however many workers.
func TestReportIsTheSameTwice(t *testing.T) {
	write := func(workers int) []byte {
		r, err := All(context.Background(), Options{FirstSeed: 5, Seeds: study.Of(1, 2), Workers: workers,
			Families: []string{"elbow-90", "bleed-elbow"}})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := r.Write(&b); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	if !bytes.Equal(write(1), write(3)) {
		t.Error("one and three workers give different tables")
	}
}
