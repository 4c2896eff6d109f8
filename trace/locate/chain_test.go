package locate

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

func partOf(fromM float64, pts ...geo.XY) trace.Part {
	p, line := trace.Part{}, geo.NewPolyline(pts)
	for i, q := range pts {
		p.Vertices = append(p.Vertices, trace.Vertex{Pos: q, StationM: fromM + line.Station(i)})
	}
	return p
}

// branched is a main of 60 m whose first part turns into a branch of 10 m at 30 m.
func branched() *trace.Centerline {
	on := partOf(50, geo.XY{X: 30}, geo.XY{X: 60})
	on.Joins = true
	return &trace.Centerline{Parts: []trace.Part{partOf(0, geo.XY{}, geo.XY{X: 30}, geo.XY{X: 30, Y: -10}), on}}
}

// The main goes straight through a joint, the branch is a chain of its own, and
// stations find their way there and back.
func TestChains(t *testing.T) {
	c := branched()
	all := chainsOf(c)
	if len(all) != 2 {
		t.Fatalf("%d chains: %+v", len(all), all)
	}
	main := mainOf(all)
	if l := main.lengthM(); math.Abs(l-60) > 1e-9 {
		t.Errorf("the main is %.1f m long", l)
	}
	if tees := main.tees(); len(tees) != 1 || tees[0] != 30 {
		t.Errorf("branches leave at %v", tees)
	}
	for stationM, want := range map[float64]float64{10: 10, 55: 35, 80: 60} {
		if k, got, ok := linksOf(all).along(stationM); !ok || &all[k][0] != &main[0] || math.Abs(got-want) > 1e-9 {
			t.Errorf("%.0f m lies at %.1f m along the main, %v; want %.0f", stationM, got, ok, want)
		}
	}
	if k, at, _ := linksOf(all).along(35); &all[k][0] == &main[0] {
		t.Errorf("a place on the branch lies at %.1f m along the main", at)
	}
	if got := main.back(20, 40); len(got) != 2 || got[0] != (piece{20, 30}) || got[1] != (piece{50, 60}) {
		t.Errorf("20 to 40 m along the main: %v", got)
	}
	if got := main.back(5, 20); len(got) != 1 || got[0] != (piece{5, 20}) {
		t.Errorf("5 to 20 m along the main: %v", got)
	}
	if p := geo.NewPolyline(trace.Part{Vertices: main.vertices(c)}.Path()); math.Abs(p.Length()-60) > 1e-9 {
		t.Errorf("the vertices of the main measure %.1f m", p.Length())
	}
}

// A gap stays within a chain, and a line without joints is one.
func TestChainOverAGap(t *testing.T) {
	c := &trace.Centerline{Parts: []trace.Part{partOf(0, geo.XY{}, geo.XY{X: 30}), partOf(40, geo.XY{X: 40}, geo.XY{X: 60})}}
	all := chainsOf(c)
	if len(all) != 1 || all[0].lengthM() != 60 || len(all[0].tees()) != 0 {
		t.Fatalf("%+v", all)
	}
	if got := all[0].back(20, 50); len(got) != 1 || got[0] != (piece{20, 50}) {
		t.Errorf("a stretch over the gap: %v", got)
	}
}

// A branch of a few metres within one part is a chain too.
func TestChainPastASpur(t *testing.T) {
	c := &trace.Centerline{Parts: []trace.Part{partOf(0, geo.XY{}, geo.XY{X: 30}, geo.XY{X: 30, Y: -6}, geo.XY{X: 30.3}, geo.XY{X: 60})}}
	all := chainsOf(c)
	if len(all) != 2 || math.Abs(mainOf(all).lengthM()-60) > 2.5 || len(mainOf(all).tees()) != 1 {
		t.Fatalf("%+v", all)
	}
}
