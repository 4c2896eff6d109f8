package tracetest

import (
	"fmt"
	"math"
	"sort"

	"loamline.example/geo"
)

// Make makes the job of a family and seed. The families are those of
// [Families]; another name is an error.
func Make(family string, seed uint64) (Job, error) {
	for _, f := range Families() {
		if f.Name == family {
			rc := ordinary(stream(family, seed, "recipe"))
			f.cook(rc)
			return rc.job(family, seed), nil
		}
	}
	return Job{}, fmt.Errorf("no family %q", family)
}

// job buries, connects, walks and writes down.
func (rc *recipe) job(family string, seed uint64) Job {
	place := stream(family, seed, "place")
	rc.noise.Optimism = 1
	if rc.noise.Stated == StatedOptimistic {
		rc.noise.Optimism = place.between(0.3, 0.6)
	}
	j := Job{
		Family: family, Seed: seed,
		Plane:       geo.NewPlane(geo.LonLat{LonDeg: place.between(-179, 179), LatDeg: place.sign() * place.between(2, 65)}),
		AntennaGapM: oneOf(place, 0.3, 0.4, 0.4, 0.4, 0.45, 0.5, 0.6),
	}
	main := rc.plan()
	main.Utility = oneOf(place, "water", "gas", "electric", "communication", "sewer", "reclaimed")
	main.Known = rc.onRecord
	j.Lines = append(j.Lines, main)
	sup := rc.connect(&j, main)
	dipoles := rc.transmitter(&j, main)
	end := rc.trace(&j, 0, sup, dipoles, 60)
	for i, n := range rc.neighbors {
		if n.traced {
			end = rc.trace(&j, i+1, supply{line: j.Lines[i+1], amps: rc.r.ratio(20, 200) / 1000, perM: sup.perM}, nil, end+300)
		}
	}
	j.Layout = rc.layout(stream(family, seed, "layout"), len(j.Traces), j.Plane.Origin())
	if rc.digits > 0 {
		j.writtenIn(rc.digits)
	}
	return j
}

// writtenIn leaves of each position what a number of decimals of a degree holds, so
// that whoever reads the job in place of its file sees no more than the file says.
func (j *Job) writtenIn(digits int) {
	ten := math.Pow10(digits)
	off := func(metresPerDegree float64) float64 { return metresPerDegree / ten / math.Sqrt(12) } // of a uniform spread
	for _, t := range j.Traces {
		for i := range t.Readings {
			rd := &t.Readings[i]
			at := j.Plane.LonLat(rd.Pos)
			north := j.Plane.XY(geo.LonLat{LonDeg: at.LonDeg, LatDeg: at.LatDeg + 1/ten}).Dist(rd.Pos) * ten
			east := j.Plane.XY(geo.LonLat{LonDeg: at.LonDeg + 1/ten, LatDeg: at.LatDeg}).Dist(rd.Pos) * ten
			rd.Pos = j.Plane.XY(geo.LonLat{LonDeg: math.Round(at.LonDeg*ten) / ten, LatDeg: math.Round(at.LatDeg*ten) / ten})
			rd.Truth.RoundM = math.Hypot(off(north), off(east)) / math.Sqrt2
		}
	}
}

// connect buries the neighbours and sets all currents.
func (rc *recipe) connect(j *Job, main Line) supply {
	r := rc.r
	s := supply{line: main, amps: rc.currentMA / 1000, perM: rc.dBPerKm / 1000 * math.Ln10 / 20}
	length := main.ToM - main.FromM
	for i := range rc.tees {
		at := main.FromM + length*(float64(i)+r.between(0.3, 0.7))/float64(rc.tees)
		s.tees = append(s.tees, tee{at, r.between(0.2, 0.5), branchAt(main, at, r.sign(), r.between(15, 40))})
	}
	for _, n := range rc.neighbors {
		l := n.bury(main, nil)
		l.Utility = oneOf(r, "water", "gas", "electric", "communication")
		j.Lines = append(j.Lines, l)
		if n.ratio == 0 {
			continue
		}
		c := activeCoupling{neighbor: n, line: l, fromM: main.FromM + n.fromFrac*length, toM: main.FromM + n.toFrac*length}
		if n.fromFrac <= 0 {
			c.fromM = -1000
		}
		if n.toFrac >= 1 {
			c.toM = main.Path.Length() + 1000
		}
		s.couplings = append(s.couplings, c)
		j.Couplings = append(j.Couplings, Coupling{
			Line: main.Name, Neighbor: n.name, Ratio: n.ratio, Jump: n.jump,
			FromM: math.Max(main.FromM, c.fromM), ToM: math.Min(main.ToM, c.toM),
		})
	}
	return s
}

// transmitter stands a loop on the line a little before the first reading. Its
// plane holds the line, so its moment lies across.
func (rc *recipe) transmitter(j *Job, main Line) []dipole {
	if !rc.transmit {
		return nil
	}
	r := rc.r
	st := main.FromM - r.between(1.5, 4)
	if rc.beginAt {
		st = main.FromM + r.between(-0.5, 0.5)
	}
	at, dir := main.Path.At(st), right(main.Path.Direction(st))
	j.Transmitter = &at
	j.PowerW = r.between(0.3, 3)
	m := r.sign() * r.between(1, 3) * math.Sqrt(j.PowerW)
	return []dipole{{at: vec{at.X, at.Y, 0.3}, moment: vec{dir.X, dir.Y, 0}.scale(m), phase: r.norm(0.3)}}
}

// trace walks one line of the job and returns the time at its end.
func (rc *recipe) trace(j *Job, line int, sup supply, dipoles []dipole, startS float64) float64 {
	l := j.Lines[line]
	name := j.Family + "/" + l.Name
	own := *rc
	own.r = stream(name, j.Seed, "walk")
	if line > 0 {
		own.raised, own.exposed, own.gapM = 0, 0, 0
	}
	w := walk{
		recipe: &own, job: j, line: l, supply: sup,
		pos:  positioning{noise: rc.noise, r: stream(name, j.Seed, "positioning")},
		gain: own.r.ratio(2e9, 4e10), slope: geo.XY{X: own.r.norm(0.01), Y: own.r.norm(0.01)},
	}
	w.all, w.alone = sup.scenes(dipoles)
	stops := own.stops(l, startS)
	w.raiseAt, w.exposeAt = some(own.r, len(stops), own.raised), some(own.r, len(stops), own.exposed)
	rds := w.trace(stops)
	w.r = stream(name, j.Seed, "faults")
	w.spoil(rds)
	t := Trace{Line: line, Readings: rds, Noise: rc.noise, Ordered: !rc.unordered, AntennaRel: rc.antennaRel, DepthRel: rc.depthRel}
	if rc.unordered {
		w.r.Shuffle(len(rds), func(a, b int) { rds[a], rds[b] = rds[b], rds[a] })
	}
	j.Traces = append(j.Traces, t)
	if len(stops) == 0 {
		return startS
	}
	return stops[len(stops)-1].timeS
}

// some picks k of n places, not the first or last.
func some(r random, n, k int) map[int]bool {
	out := map[int]bool{}
	if n < 4 {
		return out
	}
	picks := r.Perm(n - 2)[:min(k, n-2)]
	sort.Ints(picks)
	for _, i := range picks {
		out[i+1] = true
	}
	return out
}
