package guard

import (
	"math"
	"slices"

	"loamline.example/trace/remark"
)

// scatterLn is more than two times what a receiver scatters in ordinary streets, in logs
// (common practice, no source: 10 to 15 % of the depth).
const scatterLn = 0.25

// scatterShare of the depths of a part, and leastScattered of them, over scatterSpan of its
// length are more than chance: of normal errors of 12 % one in twenty lies that far off.
// Judgement.
const (
	scatterShare   = 0.1
	leastScattered = 4
	scatterSpan    = 1.0 / 3
)

// scattered finds parts a good share of whose depths lie off the profile and its band by
// more than a receiver scatters: it heard now one depth and now another, and nobody knows
// which is the line's. The band then holds all but a twentieth of them.
func (v *view) scattered() []Breach {
	off, read := make([][]float64, len(v.parts)), make([]int, len(v.parts))
	at := make([][]float64, len(v.parts)) // stations, in order
	within := v.figureM() / 2             // of what is shown
	for _, i := range v.byPlace {
		r := &v.Readings[i]
		d, band, ok := v.profileAt(i)
		if !ok || !(r.DepthM > 0) || r.DepthM >= shownM {
			continue
		}
		part := v.feet[i].part
		read[part]++
		nearest := math.Max(v.depthOf(i)-within, math.Min(d, v.depthOf(i)+within)) // to the profile, of what may be meant
		if by := math.Abs(nearest - d); by > band && math.Abs(math.Log(nearest/d)) > scatterLn {
			off[part], at[part] = append(off[part], by), append(at[part], v.feet[i].stationM)
		}
	}
	var out []Breach
	for part, by := range off {
		n := len(by)
		if n < leastScattered || float64(n) < scatterShare*float64(read[part]) || at[part][n-1]-at[part][0] < scatterSpan*(v.parts[part].ToM()-v.parts[part].FromM()) {
			continue
		}
		slices.Sort(by)
		most := by[max(0, n-1-read[part]/20)] // derived: one in twenty may lie outside a 95 % band
		out = append(out, Breach{Kind: Deep, FromM: v.parts[part].FromM(), ToM: v.parts[part].ToM(), DepthBandM: most,
			Remark: remark.DepthsScattered{N: n, Of: read[part], OffM: most}})
	}
	return out
}
