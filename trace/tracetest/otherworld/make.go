package otherworld

import (
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// Make makes the job of a family and seed. Another name than those of
// [Families] is an error.
func Make(family string, seed uint64) (tracetest.Job, error) {
	for _, f := range families() {
		if f.Name == family {
			w := wide(source(family, seed, "world"))
			f.about(w)
			return w.job(family, seed)
		}
	}
	return tracetest.Job{}, fmt.Errorf("no family %q", family)
}

// Families lists every kind of job, in a fixed order.
func Families() []tracetest.Family {
	var out []tracetest.Family
	for _, f := range families() {
		out = append(out, f.Family)
	}
	return out
}

// job buries, connects, walks and writes down.
func (w *world) job(family string, seed uint64) (tracetest.Job, error) {
	place := source(family, seed, "place")
	j := tracetest.Job{
		Family: family, Seed: seed, AntennaGapM: w.receiver.gapM, RecordErrM: w.recordM,
		Plane: geo.NewPlane(geo.LonLat{LonDeg: place.in(-175, 175), LatDeg: place.side() * place.scale(3, 62)}),
	}
	ground := source(family, seed, "ground")
	main := w.mainLine(ground)
	j.Lines = append(j.Lines, main)
	for _, n := range w.neighbors {
		l := n.bury(ground, main)
		l.Utility = pick(ground, utilities...)
		j.Lines = append(j.Lines, l)
	}
	site := w.connect(&j, source(family, seed, "signal"))
	errs := &drift{positioning: w.pos, r: source(family, seed, "positioning")}
	end := site.trace(&j, 0, errs, 60)
	for i, n := range w.neighbors {
		if n.traced && math.IsNaN(n.crossAt) {
			end = site.alone(j.Lines[i+1]).trace(&j, i+1, errs, end+place.scale(200, 4000))
		}
	}
	j.Layout = w.layout(source(family, seed, "layout"), len(j.Traces), j.Plane.Origin())
	return j, w.finish(&j)
}

var utilities = []string{"water", "gas", "electric", "communication", "sewer", "reclaimed"}

// mainLine buries the line that is to be traced.
func (w *world) mainLine(r rng) tracetest.Line {
	before, after := w.hookAwayM+r.in(2, 20), r.scale(4, 80)
	p := w.shape(r, w.lengthM)
	traced := geo.NewPolyline(p.swayed()).Length()
	p.tails(before, after)
	prof := w.trench.profile(r, before+traced+after, before, before+traced)
	l := p.line("W-1", prof)
	l.Utility, l.Known = pick(r, utilities...), w.recorded
	l.FromM, l.ToM = before, l.Path.Length()-after
	return l
}

// site is a job's lines with all currents in place.
type site struct {
	*world
	line       tracetest.Line
	feed       feed
	all, clean scene
	neighbors  []*neighbor // parallel to lines
	lines      []tracetest.Line
	ground     func(depthM float64) float64 // depth shown over true, in this ground
}

// connect lays on the signal.
func (w *world) connect(j *tracetest.Job, r rng) *site {
	main := j.Lines[0]
	st := &site{world: w, line: main, ground: w.shallow()}
	st.feed = w.feed(main, r)
	for _, c := range main.Corners {
		if math.Abs(c.TurnDeg) > 170 { // a branch: tee, tip, tee
			st.feed.branch = w.branch(main)
			st.feed.share = r.in(0.15, 0.5)
		}
	}
	for i, n := range w.neighbors {
		l := j.Lines[i+1]
		st.lines, st.neighbors = append(st.lines, l), append(st.neighbors, n)
		if n.couple != nil {
			st.settle(j, n, l)
		}
	}
	own := scene{filaments: conduct(main, st.start(main), main.Path.Length(), st.feed.at)}
	if w.hookup == "induction" {
		st.clean.loops = []loop{w.transmitter(j, main, st.feed, r)}
	} else {
		own.filaments = append(own.filaments, lead(main, st.feed, r.in(5, 25), r.gauss(0.35))...)
	}
	st.clean = st.clean.with(own)
	st.all = st.clean
	for i, n := range w.neighbors {
		if n.couple != nil {
			st.all.filaments = append(st.all.filaments, st.energise(n, st.lines[i])...)
		}
	}
	return st
}

func (st *site) start(l tracetest.Line) float64 {
	if st.feed.bothWay {
		return 0
	}
	return st.feed.hookM
}

func (w *world) branch(l tracetest.Line) (at [3]float64) {
	for i := range at {
		at[i] = l.Corners[i].StationM
	}
	return at
}

func (w *world) feed(l tracetest.Line, r rng) feed {
	alpha := w.dBPerKm / 1000 * math.Ln10 / 20
	return feed{
		hookM: l.FromM - w.hookAwayM, amps: w.amps, perM: complex(alpha, alpha*r.in(0.2, 1.2)),
		endM: l.Path.Length() + r.scale(5, 500), open: r.yes(0.5), bothWay: w.hookup == "induction",
	}
}

// transmitter stands a loop over the line, its plane along it.
func (w *world) transmitter(j *tracetest.Job, l tracetest.Line, f feed, r rng) loop {
	p, right := l.Path.At(f.hookM), rightward(l.Path.Direction(f.hookM))
	j.Transmitter, j.PowerW = &p, r.scale(0.3, 8)
	m := r.side() * r.scale(0.5, 2) * math.Sqrt(j.PowerW)
	return loop{at: vec{p.X, p.Y, r.in(0.2, 0.6)}, moment: vec{right.X, right.Y, 0}.times(m), phase: r.in(-1, 1)}
}

// settle finds the stations between which a neighbour carries signal, and notes
// them.
func (st *site) settle(j *tracetest.Job, n *neighbor, l tracetest.Line) {
	main := st.line
	length := main.ToM - main.FromM
	c := *n.couple
	from, to := main.FromM+c.fromM*length, main.FromM+c.toM*length
	if math.IsNaN(n.crossAt) {
		if c.fromM <= 0 {
			from = -1e4
		}
		if c.toM >= 1 {
			to = 1e4
		}
	} else {
		at := main.FromM + n.crossAt*length
		near := 3 * math.Max(main.DepthAt(at), l.DepthAt(l.Path.Length()/2)) / math.Max(0.4, math.Abs(math.Sin(n.crossRd)))
		from, to = at-near, at+near
	}
	c.fromM, c.toM = from, to
	n.couple = &c
	j.Couplings = append(j.Couplings, tracetest.Coupling{
		Line: main.Name, Neighbor: l.Name, Ratio: c.ratio, Jump: n.jump,
		FromM: math.Max(main.FromM, from), ToM: math.Min(main.ToM, to),
	})
	if c.bond {
		st.feed.bonds = append(st.feed.bonds, c.leaves())
	}
}

// energise gives a neighbour its part of the signal.
func (st *site) energise(n *neighbor, l tracetest.Line) []filament {
	main, c := st.line, *n.couple
	if !math.IsNaN(n.crossAt) {
		i := c.ratio * st.feed.at(main.FromM+n.crossAt*(main.ToM-main.FromM))
		return conduct(l, 0, l.Path.Length(), func(float64) complex128 { return i })
	}
	var out []filament
	if c.bond {
		out = c.straps(main, l, st.feed)
	}
	return append(out, conduct(l, 0, l.Path.Length(), func(s float64) complex128 {
		m := main.Path.Nearest(l.Path.At(s)).StationM
		return c.ratio * complex(c.window(m), 0) * st.feed.at(m)
	})...)
}

// alone is a neighbour with a signal of its own and nothing else on.
func (st *site) alone(l tracetest.Line) *site {
	w := *st.world
	w.exposed, w.lifts, w.faults.bursts, w.habit = 0, 0, 0, byPeak
	w.gait.gap, w.gait.passes, w.gait.zigM = [2]float64{}, []bool{false}, 0
	out := &site{world: &w, line: l, ground: st.ground}
	out.feed = feed{hookM: 0, amps: st.feed.amps, perM: st.feed.perM, endM: l.Path.Length() + 50}
	out.clean = scene{filaments: conduct(l, 0, l.Path.Length(), out.feed.at)}
	out.all = out.clean
	return out
}

// shallow tabulates what the ground makes of depths.
func (w *world) shallow() func(float64) float64 {
	const n, from, stepM = 8, 0.2, 0.5
	var at [n]float64
	for i := range at {
		at[i] = groundDepth(from+stepM*float64(i), w.receiver.gapM, w.freqHz, w.ohmM)
	}
	return func(d float64) float64 {
		x := math.Max(0, math.Min(n-1.001, (d-from)/stepM))
		k := int(x)
		return at[k] + (x-float64(k))*(at[k+1]-at[k])
	}
}
