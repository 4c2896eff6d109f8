package tracetest

import (
	"math"

	"loamline.example/geo"
)

// Street makes the one job that shows everything: three utilities close to each
// other along an invented street. Water W-1 runs along it with a jog of two 45°
// bends, rises over a ramp, gives off a branch, turns off by an elbow and
// leaves in a sweep; gas G-1 runs beside it and carries half of its current over
// a stretch; communication C-1 crosses both. W-1 has two lift checks, one
// exposed point, a stretch under trees with a floating fix, a stretch that
// nobody could walk, and two leaps of the position. The same seed gives the
// same bytes.
//
// The street lies in open ocean, where no real place can be meant.
func Street(seed uint64) Job {
	const name = "street"
	rc := ordinary(stream(name, seed, "recipe"))
	rc.depthM, rc.waveM = 1.15, 0.02
	rc.currentMA, rc.dBPerKm, rc.freqHz = 95, 30, 8192
	rc.spacingM, rc.raised, rc.exposed, rc.gapM = 2.2, 2, 1, 11
	rc.fix = []int{4, 4, 4, 5, 4, 4, 4, 4}
	rc.blunders, rc.spikes = 0.035, 0.03
	rc.noise = Noise{TauS: 120, CommonShare: 0.5, Stated: StatedRight, Optimism: 1, PinpointRel: 0.03, PinpointMin: 0.015}

	s := newShape(geo.XY{X: -85, Y: 3}, -0.06)
	const lead = 20
	s.straight(lead).straight(52).corner(45).straight(3.5).corner(-45).straight(46).corner(-90).straight(14).arc(11, 70).straight(12).straight(lead)
	water := newLine("W-1", s, Profile{
		Knots: []Knot{{0, 1.15}, {lead + 66, 1.15}, {lead + 78, 1.5}, {s.length, 1.5}},
		Waves: []Wave{{0.02, 37, 1}},
	})
	water.Utility, water.FromM, water.ToM = "water", lead, s.length-lead

	gas := neighbor{name: "G-1", depthM: 0.95, smoothM: 3, ratio: 0.55, sharing: 0.4, fromFrac: 0.12, toFrac: 0.31, traced: true,
		offsetM: func(s, _ float64) float64 { return 0.95 + 0.05*math.Sin(s/7) }}
	comm := neighbor{name: "C-1", depthM: 0.65, traced: true,
		offsetM: func(s, _ float64) float64 { return 0.22 * (s - 78) }}

	j := Job{Family: name, Seed: seed, Plane: geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1}), AntennaGapM: 0.4, Layout: Plain()}
	j.Lines = []Line{water}
	rc.neighbors = []neighbor{gas, comm}
	sup := rc.connect(&j, water)
	sup.tees = []tee{{water.FromM + 86, 0.3, branchAt(water, water.FromM+86, 1, 20)}}
	j.Lines[1].Utility, j.Lines[2].Utility = "gas", "communication"
	j.Lines[1].cut(0, 0.345)
	j.Lines[2].cut(0.43, 0.655)

	end := rc.trace(&j, 0, sup, nil, 60)
	other := *rc
	other.neighbors, other.fix, other.blunders, other.spikes = nil, []int{4}, 0, 0
	for i := 1; i < len(j.Lines); i++ {
		other.spacingM = 2.8
		end = other.trace(&j, i, supply{line: j.Lines[i], amps: 0.06, perM: sup.perM}, nil, end+400)
	}
	return j
}

// cut shortens the traced stretch of a line to a part of it.
func (l *Line) cut(fromFrac, toFrac float64) {
	from, length := l.FromM, l.ToM-l.FromM
	l.FromM, l.ToM = from+fromFrac*length, from+toFrac*length
}
