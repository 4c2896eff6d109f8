package guard

import (
	"math"

	"loamline.example/trace/ranked"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// When the antennas contradict a depth. Judgement.
const (
	// fewAntennas is how many depths with both antennas tell how the two go together.
	fewAntennas = 8
	// antennaLn is how far a depth must be from what its antennas make of it at least, in
	// logs, and antennaSigmas how many times as far as depths usually are (a
	// third, more than a bend or a neighbour makes between the two ways of reading).
	antennaLn, antennaSigmas = 0.4, 8.0
)

// againstAntennas finds depths that the profile follows and that their own antennas
// contradict: a slip of the display, or of whoever wrote them down, of which the signals
// know nothing. What the antennas make of a depth on this line, its other depths tell, so
// that no distance of antennas need be stated.
func (v *view) againstAntennas() []Breach {
	low := make([]float64, len(v.Readings))
	for i := range v.Readings {
		low[i] = v.Readings[i].SignalLow
	}
	full := receiver.FullScale(low)
	gaps := make([]float64, len(v.Readings))
	var lns []float64
	for _, i := range v.byPlace {
		r := &v.Readings[i]
		g := receiver.AntennaGapM(r.SignalLow, r.SignalHigh, r.DepthM)
		if !(g > 0) || math.IsInf(g, 0) || r.SignalLow >= full || r.DepthM >= shownM || r.DepthDropped {
			continue
		}
		gaps[i] = g
		lns = append(lns, math.Log(g))
	}
	if len(lns) < fewAntennas {
		return nil
	}
	usual := ranked.Median(lns)
	off := make([]float64, len(lns))
	for k, x := range lns {
		off[k] = math.Abs(x - usual)
	}
	least := math.Max(antennaLn, antennaSigmas*ranked.Median(off)*ranked.NormalSigma)
	var all []int
	var marked []bool
	for _, i := range v.byPlace {
		if gaps[i] > 0 {
			all, marked = append(all, i), append(marked, math.Abs(math.Log(gaps[i])-usual) >= least)
		}
	}
	var out []Breach
	for _, g := range v.groups(all, marked) {
		var worst, shown, heard float64
		for _, i := range g {
			d, _, ok := v.profileAt(i)
			own := v.depthOf(i)
			by := own * math.Exp(usual-math.Log(gaps[i]))
			if !ok || math.Abs(d-own) >= math.Abs(d-by) {
				continue // the profile keeps to the antennas
			}
			if x := math.Abs(d - by); x > worst {
				worst, shown, heard = x, own, by
			}
		}
		if worst > 0 {
			from, to := v.spanOf(g)
			out = append(out, Breach{Kind: Deep, FromM: from, ToM: to, DepthBandM: worst,
				Remark: remark.AgainstAntennas{Readings: len(g), DepthM: shown, AntennasM: heard}})
		}
	}
	return out
}
