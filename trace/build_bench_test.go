package trace

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// manyLines is the table of n lines a kilometre long of 500 RTK readings, each
// with elbows, one leap in a hundred, and no other line near.
func manyLines(n int) string {
	r := rand.New(rand.NewPCG(1, 1))
	var b strings.Builder
	b.WriteString("line,time,lat,lon,fix,h_acc_m,depth_m,current_ma,null_offset_m\n")
	for l := range n {
		heading, x, y := r.Float64()*2*math.Pi, 0.0, 0.0
		depthM := 0.7 + 0.8*r.Float64()
		for i := range 500 {
			if i%120 == 119 {
				heading += math.Pi / 4 * float64(1+r.IntN(2))
			}
			x, y = x+2*math.Cos(heading), y+2*math.Sin(heading)
			ex, ey := r.NormFloat64()*0.015, r.NormFloat64()*0.015
			if r.IntN(100) == 0 {
				ex, ey = ex+12*r.Float64()-6, ey+12*r.Float64()-6
			}
			s := i * 9
			fmt.Fprintf(&b, "L%d,2026-05-12T%02d:%02d:%02dZ,%.8f,%.8f,4,0.015,%.2f,%.1f,%.3f\n", l, s/3600, s%3600/60, s%60,
				44.1+(y+ey)/111240, -30.5+0.02*float64(l)+(x+ex)/79940, depthM*(1+0.03*r.NormFloat64()), 80-0.05*float64(i)+r.NormFloat64(), 0.03*r.NormFloat64())
		}
	}
	return b.String()
}

// BenchmarkBuild is the main job from the rows to the Sheet, by lines.
func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{1, 4, 16} {
		text := manyLines(n)
		b.Run(fmt.Sprintf("lines=%d", n), func(b *testing.B) {
			for b.Loop() {
				tab, err := ReadTable(strings.NewReader(text), "many.csv", 0, TableOptions{})
				if err != nil {
					b.Fatal(err)
				}
				s, err := Build(context.Background(), Source{Name: "many", Job: DefaultJob(), Inputs: []Input{{Name: "many.csv"}}, Readings: tab.Readings})
				if err != nil || len(s.Lines) != n || s.Counts.Rows != 500*n || !s.Counts.Balanced() {
					b.Fatalf("%v, %d lines, %+v", err, len(s.Lines), s.Counts)
				}
			}
		})
	}
}
