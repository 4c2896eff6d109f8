package fit

import (
	"context"
	"flag"
	"fmt"
	"math"
	"sort"
	"testing"
	"time"

	"loamline/geo"
)

var study = flag.Int("study", 0, "traces a family of the accuracy study")
var studySeed = flag.Uint64("studyseed", 1, "first seed of the study")
var studyOnly = flag.String("studyonly", "", "one family")

func TestStudy(t *testing.T) {
	if *study == 0 {
		t.Skip("asked for with -study")
	}
	fmt.Println("family sigma | rmse/sigma med p95 max | cover  band/sigma | depth cover | lost% caught% | ms")
	var all, allHit float64
	for _, sh := range []string{"straight", "elbow45", "elbow90", "elbows", "sweep", "s", "wander"} {
		if *studyOnly != "" && sh != *studyOnly {
			continue
		}
		for _, sg := range []float64{0.012, 0.2, 0.5, 1.0} {
			var rel, width []float64
			var hit, n, dhit, dn, lost, good, caught, bad, worstSeed float64
			worst := -1.0
			t0 := time.Now()
			for k := 0; k < *study; k++ {
				seed := *studySeed + uint64(k)
				spec := walkSpec{shape: sh, sigma: sg, share: []float64{.3, .6, .9}[k%3], tauS: []float64{40, 90, 240}[k/3%3], stepM: []float64{1.5, 2.5, 4}[k/2%3],
					blunders: []float64{0, 0.05, 0.2}[k/4%3], passes: 1 + k/5%2, stated: []float64{1, 1, .5, 0}[k/7%4], timed: k%2 == 0, shuffled: k%11 == 0}
				tr := made(spec, seed)
				res, _ := Line(context.Background(), tr.readings, Options{})
				for i, v := range res.Verdicts {
					if tr.blunder[i] {
						if f := tr.path.Nearest(tr.readings[i].Pos); math.Abs(f.OffsetM) > 5*math.Hypot(sg, 0.05) {
							bad++
							if v.Fate == Blunder || v.Fate == Stray {
								caught++
							}
						}
					} else {
						good++
						if v.Fate == Blunder || v.Fate == Stray {
							lost++
						}
					}
				}
				e2, m := 0.0, 0.0
				var w95 float64
				for _, part := range res.Parts {
					pts := make([]geo.XY, len(part))
					for i, v := range part {
						pts[i] = v.Pos
					}
					line := geo.NewPolyline(pts)
					for s := 1.0; s < tr.path.Length()-1; s++ {
						f := line.Nearest(tr.path.At(s))
						if f.StationM <= 0 || f.StationM >= line.Length() {
							continue
						}
						u := 0.0
						if d := line.Station(f.Segment+1) - line.Station(f.Segment); d > 0 {
							u = (f.StationM - line.Station(f.Segment)) / d
						}
						band := part[f.Segment].Horizontal95M*(1-u) + part[f.Segment+1].Horizontal95M*u
						e2 += f.OffsetM * f.OffsetM
						m++
						w95 += band
						if math.Abs(f.OffsetM) <= band {
							hit++
						}
						n++
						dd := part[f.Segment].DepthM*(1-u) + part[f.Segment+1].DepthM*u
						d95 := part[f.Segment].Depth95M*(1-u) + part[f.Segment+1].Depth95M*u
						if !math.IsNaN(dd) {
							dn++
							if math.Abs(dd-(1+0.1*math.Sin(s/20))) <= d95 {
								dhit++
							}
						}
					}
				}
				if m == 0 {
					fmt.Println("no line", sh, sg, seed)
					continue
				}
				st := math.Hypot(sg, 0.03)
				r := math.Sqrt(e2/m) / st
				rel = append(rel, r)
				width = append(width, w95/m/st)
				if r > worst {
					worst, worstSeed = r, float64(seed)
				}
			}
			ms := float64(time.Since(t0).Milliseconds()) / float64(*study)
			sort.Float64s(rel)
			sort.Float64s(width)
			q := func(v []float64, p float64) float64 { return v[int(p*float64(len(v)-1))] }
			fmt.Printf("%-9s %5.3f | %5.2f %5.2f %6.2f (seed %.0f) | %5.1f %5.2f | %5.1f | %4.1f %5.1f | %.1f\n", sh, sg, q(rel, .5), q(rel, .95), q(rel, 1), worstSeed, 100*hit/n, q(width, .5), 100*dhit/math.Max(dn, 1), 100*lost/good, 100*caught/math.Max(bad, 1), ms)
			all += n
			allHit += hit
		}
	}
	fmt.Printf("all %.1f\n", 100*allHit/all)
}
