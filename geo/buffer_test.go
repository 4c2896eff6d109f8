package geo

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/paulmach/orb/planar"
)

func pathOf(t testing.TB, s string) []XY {
	t.Helper()
	ls, err := wkt.UnmarshalLineString(s)
	if err != nil {
		t.Fatal(err)
	}
	var path []XY
	for _, p := range ls {
		path = append(path, XY{p[0], p[1]})
	}
	return path
}

// zoneArea is the area of a multipolygon in m2; it fails on a ring that is wound
// the wrong way or not closed.
func zoneArea(t testing.TB, mp orb.MultiPolygon) float64 {
	t.Helper()
	sum := 0.0
	for _, poly := range mp {
		for i, ring := range poly {
			if !ring.Closed() || len(ring) < 4 {
				t.Errorf("ring of %d points is not closed", len(ring))
			}
			want := orb.CCW
			if i > 0 {
				want = orb.CW
			}
			if ring.Orientation() != want {
				t.Errorf("ring %d runs the wrong way round", i)
			}
			sum += math.Abs(planar.Area(ring)) * float64(want)
		}
	}
	return sum
}

// Areas of round buffers by GEOS 3.11.1 with 512 segments a quarter circle, and
// in closed form where there is one (testdata/SOURCES.md, buffer).
func TestBufferAgainstGEOS(t *testing.T) {
	var file struct {
		DistanceM float64 `json:"distance_m"`
		Cases     []struct {
			Name     string
			LineWKT  string   `json:"line_wkt"`
			TrueArea *float64 `json:"true_area_m2"`
			Buffers  map[string]struct {
				Area  float64 `json:"area_m2"`
				Holes int
			}
		}
	}
	raw, err := os.ReadFile("../testdata/buffer/geos_round_buffers_18in.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) != 10 {
		t.Fatalf("%d cases", len(file.Cases))
	}
	for _, c := range file.Cases {
		t.Run(c.Name, func(t *testing.T) {
			zone, err := Buffer(pathOf(t, c.LineWKT), file.DistanceM)
			if err != nil {
				t.Fatal(err)
			}
			want := c.Buffers["512"].Area
			if c.TrueArea != nil {
				want = *c.TrueArea
			}
			got := zoneArea(t, zone)
			if got < want || got > want*1.0006 {
				t.Errorf("area %.6f m2, want %.6f to %.6f", got, want, want*1.0006)
			}
			holes := 0
			for _, p := range zone {
				holes += len(p) - 1
			}
			if holes != c.Buffers["512"].Holes {
				t.Errorf("%d holes, want %d", holes, c.Buffers["512"].Holes)
			}
		})
	}
}

func TestBufferBadInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	line := []XY{{0, 0}, {1, 0}}
	for _, c := range []struct {
		path []XY
		l, r []float64
		want string
	}{
		{nil, nil, nil, "at least one point"},
		{[]XY{{0, 0}, {nan, 0}}, []float64{1, 1}, []float64{1, 1}, "point 1"},
		{[]XY{{inf, 0}}, []float64{1}, []float64{1}, "point 0"},
		{line, []float64{1, nan}, []float64{1, 1}, "half-widths at point 1"},
		{line, []float64{1, 1}, []float64{1, -1}, "half-widths at point 1"},
		{line, []float64{0, 1}, []float64{0, 1}, "half-widths at point 0"},
		{line, []float64{1}, []float64{1, 1}, "as many half-widths"},
	} {
		if _, err := BufferVariable(c.path, c.l, c.r); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: error %v, want one with %q", c.path, err, c.want)
		}
	}
}

func TestBufferOfAPoint(t *testing.T) {
	for _, path := range [][]XY{{{3, 4}}, {{3, 4}, {3, 4}, {3, 4}}} {
		zone, err := Buffer(path, 2)
		if err != nil {
			t.Fatal(err)
		}
		if a := zoneArea(t, zone); a < 4*math.Pi || a > 4*math.Pi*1.0005 {
			t.Errorf("area %g of a circle of 2 m", a)
		}
	}
}

// A cone between two discs, in closed form: the hull of discs of radius R and r
// at distance d.
func TestBufferVariableTaper(t *testing.T) {
	const R, r, d = 2.0, 0.5, 6.0
	zone, err := BufferVariable([]XY{{0, 0}, {d, 0}}, []float64{R, r}, []float64{R, r})
	if err != nil {
		t.Fatal(err)
	}
	psi := math.Acos((R - r) / d)
	want := d*math.Sin(psi)*(R+r) + (math.Pi-psi)*R*R + psi*r*r
	if got := zoneArea(t, zone); got < want || got > want*1.0008 {
		t.Errorf("area %.6f, want %.6f", got, want)
	}
}

func TestBufferVariableSides(t *testing.T) {
	zone, err := BufferVariable([]XY{{0, 0}, {10, 0}}, []float64{1, 3}, []float64{0.5, 0})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		p    orb.Point
		want bool
	}{
		{orb.Point{5, 1.99}, true},
		{orb.Point{5, 2.2}, false},
		{orb.Point{5, -0.249}, true},
		{orb.Point{5, -0.27}, false},
		{orb.Point{-0.99, 0}, true},
		{orb.Point{12.99, 0.01}, true},
	} {
		if got := planar.MultiPolygonContains(zone, c.p); got != c.want {
			t.Errorf("%v inside: %v", c.p, got)
		}
	}
	zoneArea(t, zone)
}

func wiggle(n int, stepM float64) []XY {
	path := make([]XY, n)
	dir, p := 0.0, XY{}
	for i := range path {
		path[i] = p
		dir += 0.3*math.Sin(float64(i)*0.37) + 0.05*math.Sin(float64(i)*1.7)
		p = p.Add(XY{math.Cos(dir) * stepM, math.Sin(dir) * stepM})
		if i%50 == 49 {
			dir += math.Pi / 2 * float64(1-2*(i/50%2))
		}
	}
	return path
}

func BenchmarkBuffer(b *testing.B) {
	for _, n := range []int{250, 10000} {
		path := wiggle(n, 0.5)
		l, r := make([]float64, n), make([]float64, n)
		for i := range l {
			l[i] = 0.8 + 0.4*math.Sin(float64(i)/7)
			r[i] = 0.8 + 0.4*math.Cos(float64(i)/9)
		}
		b.Run(fmt.Sprintf("even/%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Buffer(path, 0.4572); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("uneven/%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := BufferVariable(path, l, r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
