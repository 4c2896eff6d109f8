package fit

import (
	"testing"

	"loamline.example/geo"
)

// branchedWalk walks a main along y = 0 from x = 0 to 60 with a reading every 2 m, and
// from x = 30 out to y = -16 along a branch and back; both ways over it are read.
func branchedWalk(bothWays bool) []reading {
	var at []geo.XY
	for x := 0.0; x <= 30; x += 2 {
		at = append(at, geo.XY{X: x})
	}
	for y := 2.0; y <= 16; y += 2 {
		at = append(at, geo.XY{X: 30, Y: -y})
	}
	for y := 15.0; bothWays && y >= 1; y -= 2 {
		at = append(at, geo.XY{X: 30, Y: -y})
	}
	for x := 31.0; x <= 60; x += 2 {
		at = append(at, geo.XY{X: x})
	}
	rs := make([]reading, len(at))
	for i, p := range at {
		rs[i] = plain(p.X+0.006*float64(i%3-1), p.Y+0.006*float64(i*7%3-1))
		rs[i].SigmaM, rs[i].TimeS, rs[i].DepthM = 0.01, 8*float64(i), 1+0.01*float64(i%3-1)
	}
	return rs
}

// A branch walked out and back is no gap: what comes after it sets out from where the
// branch leaves, and nothing of what was read is less sure for the way back.
func TestBranchWalkedOutAndBack(t *testing.T) {
	for _, both := range []bool{false, true} {
		res := sane(t, "branch", branchedWalk(both))
		for k, p := range res.Parts {
			if k > 0 && !p.Joins {
				t.Errorf("both ways %v: a gap of %.1f m before part %d", both, p.FromM()-res.Parts[k-1].ToM(), k)
			}
			for _, v := range p.Vertices {
				if d := v.Pos.Dist(geo.XY{X: 30}); d > 4 && v.Pos.Y > -15 && v.Horizontal95M > 0.1 {
					t.Errorf("both ways %v: at %.1f, %.1f the band is %.2f m", both, v.Pos.X, v.Pos.Y, v.Horizontal95M)
				}
				if v.DepthM < 0.95 || v.DepthM > 1.05 {
					t.Errorf("both ways %v: at %.1f, %.1f the depth is %.2f m of 1", both, v.Pos.X, v.Pos.Y, v.DepthM)
				}
			}
		}
	}
}

// A way without readings that leads anywhere else is a gap, also beside the line.
func TestWayElsewhereIsAGap(t *testing.T) {
	rs := branchedWalk(false)
	for i := range rs { // what comes after begins 5 m beside the main
		if rs[i].Pos.X > 30.5 {
			rs[i].Pos.Y += 5
		}
	}
	res := sane(t, "gap", rs)
	if len(res.Parts) < 2 || res.Parts[1].Joins {
		t.Errorf("%d parts, joined %v", len(res.Parts), len(res.Parts) > 1 && res.Parts[1].Joins)
	}
}
