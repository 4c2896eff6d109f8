package plan

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loamline.example/geo"
)

func TestViewRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := View{
			Window: Rect{10, 20, 200, 100}, Scale: Scale(rapid.Float64Range(20, 5000).Draw(t, "scale")),
			Center:   geo.XY{X: rapid.Float64Range(-1e4, 1e4).Draw(t, "x"), Y: rapid.Float64Range(-1e4, 1e4).Draw(t, "y")},
			AngleRad: rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "angle"),
		}
		a := geo.XY{X: rapid.Float64Range(-1e4, 1e4).Draw(t, "ax"), Y: 3}
		if back := v.Ground(v.Paper(a)); back.Dist(a) > 1e-6 {
			t.Fatalf("%v came back as %v", a, back)
		}
		b := a.Add(geo.XY{X: 3, Y: 4})
		if got, want := v.Paper(a).Sub(v.Paper(b)).Norm(), 5000/float64(v.Scale); math.Abs(got-want) > 1e-6 {
			t.Fatalf("5 m are %v mm at %v, want %v", got, v.Scale, want)
		}
		north := v.Paper(a.Add(geo.XY{Y: 1})).Sub(v.Paper(a)).Unit()
		if north.Sub(v.North()).Norm() > 1e-6 || v.North().Y > 1e-9 {
			t.Fatalf("north %v, drawn %v", v.North(), north)
		}
	})
}

func TestStripsCoverTheLineAndFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 60).Draw(t, "n")
		path := []geo.XY{{}}
		dir := 0.0
		for range n {
			dir += rapid.Float64Range(-1, 1).Draw(t, "turn")
			l := rapid.Float64Range(0.1, 30).Draw(t, "step")
			path = append(path, path[len(path)-1].Add(geo.XY{X: l * math.Cos(dir), Y: l * math.Sin(dir)}))
		}
		line := geo.NewPolyline(path)
		room := Room{WidthMM: 180, HeightMM: 95, PadM: 1, StepM: 1}
		scale, strips := ChooseScale(geo.Metric, line, room)
		at := 0.0
		for _, s := range strips {
			if s.FromM != at || s.ToM <= s.FromM {
				t.Fatalf("strip from %v to %v after %v", s.FromM, s.ToM, at)
			}
			at = s.ToM
			w, h, _ := Bounds(line.Slice(s.FromM, s.ToM), s.AngleRad)
			if k := scale.MMPerM(); w*k > room.WidthMM+1e-6 || (h+2)*k > room.HeightMM+1e-6 || (s.ToM-s.FromM)*k > room.WidthMM+1e-6 {
				t.Fatalf("strip %v of %v by %v m does not fit at 1:%v", s, w, h, scale)
			}
			if math.Abs(s.AngleRad) > math.Pi/2+1e-9 {
				t.Fatalf("north is down on strip %v", s)
			}
		}
		if math.Abs(at-line.Length()) > 1e-6 {
			t.Fatalf("strips end at %v of %v m", at, line.Length())
		}
	})
}

func TestChooseScale(t *testing.T) {
	room := Room{WidthMM: 200, HeightMM: 100, PadM: 1, StepM: 1}
	cases := []struct {
		name    string
		u       geo.Units
		lengthM float64
		scale   Scale
		strips  int
	}{
		{"a short line large", geo.Metric, 8, 50, 1},
		{"one sheet at the most detailed scale that takes one", geo.Metric, 38, 200, 1},
		{"one sheet rather than two", geo.Metric, 48, 250, 1},
		{"a long line on more sheets, not smaller", geo.Metric, 260, 250, 6},
		{"two kilometres", geo.Metric, 2000, 500, 20},
		{"feet to the inch", geo.US, 150 * geo.FootM, 240, 1},
	}
	for _, c := range cases {
		s, strips := ChooseScale(c.u, geo.NewPolyline([]geo.XY{{}, {X: c.lengthM}}), room)
		if s != c.scale || len(strips) != c.strips {
			t.Errorf("%s: 1:%v on %d sheets, want 1:%v on %d", c.name, s, len(strips), c.scale, c.strips)
		}
	}
}

// Lines 0.28 m apart want a scale at which they are 1.6 mm apart on paper.
func TestChooseScaleTellsNeighboursApart(t *testing.T) {
	line := geo.NewPolyline([]geo.XY{{}, {X: 60}})
	room := Room{WidthMM: 290, HeightMM: 120, PadM: 1, StepM: 1}
	if s, _ := ChooseScale(geo.Metric, line, room); s != 250 {
		t.Errorf("alone: 1:%v, want 1:250", s)
	}
	room.ApartM = 0.28
	if s, strips := ChooseScale(geo.Metric, line, room); s != 100 || len(strips) != 3 {
		t.Errorf("beside others: 1:%v on %d sheets, want 1:100 on 3", s, len(strips))
	}
	room.ApartM = 0.01
	if _, strips := ChooseScale(geo.Metric, line, room); len(strips) > bestSheets {
		t.Errorf("%d sheets for lines that cannot be told apart", len(strips))
	}
}

// A line to the north-east does not fit upright where it fits turned.
func TestStripsTurnWhereItSavesSheets(t *testing.T) {
	line := geo.NewPolyline([]geo.XY{{}, {X: 25, Y: 25}})
	s := Strips(line, 200, Room{WidthMM: 200, HeightMM: 90, PadM: 1})
	if len(s) != 1 || math.Abs(s[0].AngleRad-math.Pi/4) > 1e-9 {
		t.Errorf("got %v, want one strip turned by 45 degrees", s)
	}
	line = geo.NewPolyline([]geo.XY{{}, {X: -30, Y: 3}})
	if s := Strips(line, 200, Room{WidthMM: 200, HeightMM: 90, PadM: 1}); len(s) != 1 || s[0].AngleRad != 0 {
		t.Errorf("got %v, want one strip north up", s)
	}
}

func TestTicksHaveNoNegativeZero(t *testing.T) {
	got := Ticks(-0.2, 10, 5)
	if len(got) != 3 || math.Signbit(got[0]) || got[2] != 10 {
		t.Errorf("got %v, want 0, 5, 10", got)
	}
	if Ticks(0, 1, 0) != nil || Ticks(math.Inf(-1), 0, 1) != nil {
		t.Error("ticks without a step or an end")
	}
}

func TestRoundStep(t *testing.T) {
	for min, want := range map[float64]float64{0.00012: 0.0002, 1: 1, 2.1: 5, 7: 10, 50: 50} {
		if got := RoundStep(min); math.Abs(got-want) > 1e-12 {
			t.Errorf("step of at least %v: %v, want %v", min, got, want)
		}
	}
}

func TestClipPathStaysInside(t *testing.T) {
	r := Rect{0, 0, 10, 10}
	runs := ClipPath([]Pt{{-5, 5}, {5, 5}, {5, 15}, {8, 15}, {8, 5}}, r)
	if len(runs) != 2 || runs[0][0] != (Pt{0, 5}) || runs[0][2] != (Pt{5, 10}) || runs[1][0] != (Pt{8, 10}) {
		t.Errorf("got %v", runs)
	}
	if got := ClipPath([]Pt{{math.NaN(), 0}, {5, 5}}, r); got != nil {
		t.Errorf("a path without a place was drawn: %v", got)
	}
}

// The area of a clipped square is that of the overlap.
func TestClipRing(t *testing.T) {
	ring := ClipRing([]Pt{{-5, -5}, {5, -5}, {5, 5}, {-5, 5}}, Rect{0, 0, 10, 10})
	area := 0.0
	for i, q := range ring {
		p := ring[(i+len(ring)-1)%len(ring)]
		area += p.X*q.Y - q.X*p.Y
	}
	if math.Abs(math.Abs(area/2)-25) > 1e-9 {
		t.Errorf("area %v, want 25", area/2)
	}
}

func TestBoardKeepsLabelsApart(t *testing.T) {
	b := NewBoard(Rect{0, 0, 100, 60})
	b.Ink([]Pt{{0, 30}, {100, 30}}, 5)
	var placed []Rect
	for range 12 {
		r, _, ok := b.Place([]Pt{{50, 30}}, 18, 4, 1, 40)
		if !ok {
			t.Fatal("no room on an almost empty board")
		}
		if r.Y < 30 && r.Bottom() > 30 {
			t.Errorf("label %v covers the line", r)
		}
		for _, q := range placed {
			if r.overlaps(q) {
				t.Errorf("label %v covers %v", r, q)
			}
		}
		placed = append(placed, r)
	}
	if _, _, ok := b.Place([]Pt{{50, 30}}, 120, 4, 1, 40); ok {
		t.Error("a label wider than the board was placed")
	}
}
