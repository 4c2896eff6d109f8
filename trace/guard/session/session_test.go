package session

import (
	"math"
	"slices"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// walked are readings at places, eight seconds apart, of 2 cm.
func walked(at ...geo.XY) Walk {
	w := Walk{OwnM: func(int) float64 { return 0.02 }}
	for k, p := range at {
		r := trace.NewReading()
		r.Pos, r.Time = p, time.Date(2026, 5, 12, 8, 0, 8*k, 0, time.UTC)
		w.Readings, w.Order = append(w.Readings, r), append(w.Order, k)
	}
	return w
}

// on are places of a line every 2 m between two stations, moved.
func on(line geo.Polyline, fromM, toM float64, by geo.XY) (out []geo.XY) {
	for s := fromM; s <= toM; s += 2 {
		out = append(out, line.At(s).Add(by))
	}
	return out
}

var (
	straight = geo.NewPolyline([]geo.XY{{}, {X: 80}})
	// elbowed bends to the left at 40 m.
	elbowed = geo.NewPolyline([]geo.XY{{}, {X: 40}, {X: 68, Y: 28}})
)

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		name  string
		later func(r *trace.Reading)
		want  int
	}{
		{"at a stretch", func(*trace.Reading) {}, 1},
		{"an hour's pause", func(r *trace.Reading) { r.Time = r.Time.Add(time.Hour) }, 1},
		{"the next day", func(r *trace.Reading) { r.Time = r.Time.Add(24 * time.Hour) }, 2},
		{"another table at once", func(r *trace.Reading) { r.File = 1 }, 1},
		{"another table an hour later", func(r *trace.Reading) { r.File, r.Time = 1, r.Time.Add(time.Hour) }, 2},
		{"another crew's table of the same minutes", func(r *trace.Reading) { r.File, r.Time = 1, r.Time.Add(-4*time.Minute) }, 2},
		{"another table without times", func(r *trace.Reading) { r.File, r.Time = 1, time.Time{} }, 2},
	} {
		w := walked(on(straight, 0, 40, geo.XY{})...)
		for k := 10; k < len(w.Readings); k++ {
			c.later(&w.Readings[k])
		}
		if got := len(w.Split()); got != c.want {
			t.Errorf("%s: %d sessions, want %d", c.name, got, c.want)
		}
	}
}

// TestApart: what is the next day's lies aside of the line by so much, and is told where the
// two days overlap or the one does not go on from the other, in or beside a bend too, and
// whichever way the second walked; what one bend between them explains is not.
func TestApart(t *testing.T) {
	for _, c := range []struct {
		name       string
		line       geo.Polyline
		toM, fromM float64 // the first day's last station, the second's first
		by         geo.XY
		wantM      float64
		overlap    bool
	}{
		{"goes on", straight, 40, 42, geo.XY{}, 0, false},
		{"goes on 0.5 m aside", straight, 40, 42, geo.XY{Y: 0.5}, 0.5, false},
		{"goes on 0.1 m aside", straight, 40, 42, geo.XY{Y: 0.1}, 0, false},
		{"round the elbow", elbowed, 39, 41, geo.XY{}, 0, false},
		{"before the elbow", elbowed, 32, 34, geo.XY{}, 0, false},
		{"behind the elbow", elbowed, 44, 46, geo.XY{}, 0, false},
		{"0.8 m aside before the elbow", elbowed, 32, 34, geo.XY{Y: -0.8}, 0.8, false},
		{"away from the elbow's inner side", elbowed, 38, 40, geo.XY{Y: -0.8}, 0.8, false},
		{"along a straight line, which nothing shows", straight, 40, 42, geo.XY{X: 0.8}, 0, false},
		{"too far on", straight, 20, 42, geo.XY{Y: 0.8}, 0, false},
		{"overlaps", straight, 40, 32, geo.XY{}, 0, true},
		{"overlaps 1.2 m aside", straight, 40, 32, geo.XY{Y: 1.2}, 1.2, true},
		{"overlaps round the elbow", elbowed, 50, 35, geo.XY{}, 0, true},
	} {
		for _, back := range []bool{false, true} {
			second := on(c.line, c.fromM, 68, c.by)
			if back {
				for a, b := 0, len(second)-1; a < b; a, b = a+1, b-1 {
					second[a], second[b] = second[b], second[a]
				}
			}
			first := on(c.line, 0, c.toM, geo.XY{})
			w := walked(append(first, second...)...)
			for k := len(first); k < len(w.Readings); k++ {
				w.Readings[k].Time = w.Readings[k].Time.Add(24 * time.Hour)
			}
			all := w.Split()
			got := w.Apart(all)
			switch {
			case c.wantM == 0 && len(got) > 0:
				t.Errorf("%s, back %v: told by %.2f m", c.name, back, got[0].ApartM)
			case c.wantM > 0 && (len(got) != 1 || math.Abs(got[0].ApartM-c.wantM) > 0.1*c.wantM || got[0].Overlap != c.overlap):
				t.Errorf("%s, back %v: %+v, want %.2f m", c.name, back, got, c.wantM)
			}
		}
	}
}

// TestRingMiss: a ring drifts by so much until it is closed; what ends a stride before its
// beginning closes, and a walk out and back is no ring.
func TestRingMiss(t *testing.T) {
	ring := geo.NewPolyline([]geo.XY{{}, {X: 16}, {X: 16, Y: 12}, {Y: 12}, {}})
	for _, c := range []struct {
		name  string
		line  geo.Polyline
		toM   float64
		drift geo.XY
		wantM float64
	}{
		{"closed", ring, 56, geo.XY{}, 0},
		{"ends a stride before", ring, 54, geo.XY{}, 0},
		{"drifts past its beginning", ring, 56, geo.XY{Y: -0.8}, 0.8},
		{"drifts within it", ring, 56, geo.XY{X: 0.8}, 0.8},
		{"does not come back", ring, 40, geo.XY{X: 0.8}, 0},
		{"out and back", geo.NewPolyline([]geo.XY{{}, {X: 30}, {Y: 0.6}}), 60, geo.XY{}, 0},
	} {
		var at []geo.XY
		for s := 0.0; s <= c.toM; s += 2 {
			at = append(at, c.line.At(s).Add(c.drift.Scale(s/c.toM)))
		}
		w := walked(at...)
		if got := w.RingMiss(&w.Split()[0]); math.Abs(got-c.wantM) > 0.15*c.wantM {
			t.Errorf("%s: %.2f m, want %.2f m", c.name, got, c.wantM)
		}
	}
}

// left is set aside for where it lies.
type left struct{}

func (left) Remark()  {}
func (left) Outlier() {}

// TestLeapsAtASeam: a reading that was set aside next to a seam tells a step where it is a
// stride from its session, and none where it leaped.
func TestLeapsAtASeam(t *testing.T) {
	for _, c := range []struct {
		name  string
		first geo.XY // of the second day, which lies 0.8 m aside
		asideM,
		wantM float64
	}{
		{"a stride before the others", geo.XY{X: 42, Y: 0.8}, 0.8, 0.8},
		{"leaped, the others go on", geo.XY{X: 42, Y: 3}, 0, 0},
	} {
		w := walked(append(append(on(straight, 0, 40, geo.XY{}), c.first), on(straight, 44, 80, geo.XY{Y: c.asideM})...)...)
		for k := 21; k < len(w.Readings); k++ {
			w.Readings[k].Time = w.Readings[k].Time.Add(24 * time.Hour)
		}
		w.Readings[21].SetAside(left{})
		got := w.Apart(w.Split())
		if c.wantM == 0 && len(got) > 0 || c.wantM > 0 && (len(got) != 1 || got[0].Near[1] != 21 || math.Abs(got[0].ApartM-c.wantM) > 0.1) {
			t.Errorf("%s: %+v, want %.1f m", c.name, got, c.wantM)
		}
	}
}

// TestOtherLeg: the other leg of a line that turns back is no second pass over the first,
// but a pass back over it is.
func TestOtherLeg(t *testing.T) {
	for asideM, want := range map[float64]bool{2: false, 1: true} {
		w := walked(append(on(straight, 0, 40, geo.XY{}), on(geo.NewPolyline([]geo.XY{{X: 36, Y: asideM}, {Y: asideM}}), 0, 36, geo.XY{})...)...)
		for k := 21; k < len(w.Readings); k++ {
			w.Readings[k].Time = w.Readings[k].Time.Add(24 * time.Hour)
		}
		if got := w.Apart(w.Split()); len(got) > 0 != want {
			t.Errorf("%.0f m beside: %+v", asideM, got)
		}
	}
}

// TestResumed: a line that was read from its beginning to the middle and then from its far
// end back is told of where the two parts do not meet, as where the second was read over a
// line beside; not where they meet, at a bend too, where a hole lies between them, where the
// walk went on at a stretch, or where the second is a branch.
func TestResumed(t *testing.T) {
	back := func(line geo.Polyline, toM float64, by geo.XY) []geo.XY { // from the far end
		at := on(line, toM, line.Length(), by)
		slices.Reverse(at)
		return at
	}
	for _, c := range []struct {
		name   string
		first  []geo.XY
		second []geo.XY
		wantM  float64
	}{
		{"meets", on(straight, 0, 40, geo.XY{}), back(straight, 42, geo.XY{}), 0},
		{"meets 0.6 m aside", on(straight, 0, 40, geo.XY{}), back(straight, 42, geo.XY{Y: 0.6}), 0.6},
		{"passes it 0.6 m aside", on(straight, 0, 40, geo.XY{}), back(straight, 38, geo.XY{Y: 0.6}), 0.6},
		{"meets 0.1 m aside", on(straight, 0, 40, geo.XY{}), back(straight, 42, geo.XY{Y: 0.1}), 0},
		{"meets at a bend", on(elbowed, 0, 39, geo.XY{}), back(elbowed, 41, geo.XY{}), 0},
		{"meets behind a hole, 0.6 m aside", on(straight, 0, 30, geo.XY{}), back(straight, 44, geo.XY{Y: 0.6}), 0},
		{"goes on at a stretch 0.6 m aside", on(straight, 0, 40, geo.XY{}), on(straight, 42, 80, geo.XY{Y: 0.6}), 0},
		{"ends 4 m beside it", on(straight, 0, 40, geo.XY{}), back(straight, 42, geo.XY{Y: 4}), 0},
	} {
		got := walked(append(c.first, c.second...)...).Resumed()
		switch {
		case c.wantM == 0 && len(got) > 0:
			t.Errorf("%s: %.2f m apart", c.name, got[0].ApartM)
		case c.wantM > 0 && (len(got) != 1 || math.Abs(got[0].ApartM-c.wantM) > 0.1 || !got[0].Resumed):
			t.Errorf("%s: %+v, want %.1f m apart", c.name, got, c.wantM)
		}
	}
}
