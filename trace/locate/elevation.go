package locate

import (
	"sort"

	"loamline.example/trace"
)

// carryM is how far past the outermost reading with an elevation the ground is
// taken as level: the fit may end a line a little beyond it. Judgement.
const carryM = 1.0

// addElevations gives each vertex the elevation of the line's centre: ground
// elevation, linear between the readings that have one, less the depth. Past the
// outermost of them, but for carryM, nothing is known.
func addElevations(t trace.Trace, c *trace.Centerline) {
	type ground struct{ stationM, elevM float64 }
	var g []ground
	for i := range t.Readings {
		r := &t.Readings[i]
		if (r.Status == trace.StatusUsed || r.Status == trace.StatusExposed) && trace.Known(r.ElevM) && trace.Known(r.StationM) {
			g = append(g, ground{r.StationM, r.ElevM})
		}
	}
	if len(g) < 2 {
		return
	}
	sort.SliceStable(g, func(a, b int) bool { return g[a].stationM < g[b].stationM })
	for _, p := range c.Parts {
		for k := range p.Vertices {
			v := &p.Vertices[k]
			if v.StationM < g[0].stationM-carryM || v.StationM > g[len(g)-1].stationM+carryM {
				continue
			}
			i := sort.Search(len(g), func(i int) bool { return g[i].stationM >= v.StationM })
			i = max(1, min(i, len(g)-1))
			a, b := g[i-1], g[i]
			f := 0.0
			if b.stationM > a.stationM {
				f = max(0, min(1, (v.StationM-a.stationM)/(b.stationM-a.stationM)))
			}
			v.ElevM = a.elevM + f*(b.elevM-a.elevM) - v.DepthM
		}
	}
}
