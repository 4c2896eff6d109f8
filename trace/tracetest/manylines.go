package tracetest

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
)

// ManyLines writes a readings table of n lines, each a kilometre long with 500
// RTK readings, elbows and one leap in a hundred, and no other line near: what a
// benchmark of whole runs reads. It has no truth beside it.
func ManyLines(to io.Writer, n int) error {
	const metresPerLat, metresPerLon, columns = 111240, 79940, 45
	r := rand.New(rand.NewPCG(1, 1))
	b := bufio.NewWriter(to)
	b.WriteString("line,time,lat,lon,fix,h_acc_m,depth_m,current_ma,null_offset_m\n")
	for l := range n {
		lat0, lon0 := 44.1+0.0135*float64(l/columns), -30.5+0.0188*float64(l%columns)
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
			fmt.Fprintf(b, "L%d,2026-05-12T%02d:%02d:%02dZ,%.8f,%.8f,4,0.015,%.2f,%.1f,%.3f\n", l, s/3600, s%3600/60, s%60,
				lat0+(y+ey)/metresPerLat, lon0+(x+ex)/metresPerLon, depthM*(1+0.03*r.NormFloat64()), 80-0.05*float64(i)+r.NormFloat64(), 0.03*r.NormFloat64())
		}
	}
	return b.Flush()
}
