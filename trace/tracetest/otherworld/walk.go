package otherworld

import (
	"math"
	"math/cmplx"
	"strconv"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

// trace walks one line of the job and returns the time at its end.
func (st *site) trace(j *tracetest.Job, line int, errs *drift, startS float64) float64 {
	name := j.Family + "/" + st.line.Name
	walk, meter := source(name, j.Seed, "walk"), source(name, j.Seed, "meter")
	visits := st.gait.visits(walk, st.line.FromM, st.line.ToM, startS)
	end := startS
	var rds []tracetest.Reading
	lifted, dug := some(walk, len(visits), st.lifts), some(walk, len(visits), st.exposed)
	wrong := st.wrongDug
	for i, v := range visits {
		p := st.stand(v)
		rds = append(rds, st.read(p, v, errs, meter, 0))
		if lifted[i] {
			v.timeS += 8
			rds = append(rds, st.read(p, v, errs, meter, pick(walk, 0.2, 0.3, 0.5)))
		}
		if dug[i] {
			v.timeS += 1
			rds = append(rds, st.expose(v, errs, walk, wrong))
			wrong = false
		}
		end = v.timeS
	}
	st.faults.spoil(source(name, j.Seed, "faults"), rds)
	t := tracetest.Trace{
		Line: line, Readings: rds, Noise: st.pos.noise, Ordered: !st.shuffled,
		DepthRel: st.receiver.depthRel, DepthScaleRel: st.scaleSD, DepthStepM: st.receiver.stepM,
	}
	t.Noise.PinpointRel, t.Noise.PinpointMin = st.pinRel, st.pinM
	if st.receiver.rule == ratio || st.receiver.rule == total {
		t.AntennaRel = st.receiver.antenna
	}
	for i := range rds {
		rds[i].Line, rds[i].Point = st.line.Name, strconv.Itoa(i+1)
	}
	if st.shuffled {
		walk.Shuffle(len(rds), func(a, b int) { rds[a], rds[b] = rds[b], rds[a] })
	}
	j.Traces = append(j.Traces, t)
	return end
}

// some picks places, not the first and not the last.
func some(r rng, n, k int) map[int]bool {
	out := map[int]bool{}
	for range k {
		if n > 3 {
			out[1+r.IntN(n-2)] = true
		}
	}
	return out
}

// spot is where the locator searches, and what he finds there without noise.
type spot struct {
	on         geo.XY // the line
	right      geo.XY
	all, clean slice
	found      found
	alone      found
	neighbor   int // that carries signal of the line here; −1 where none does
	jumped     bool
}

const searchM = 3.5

// stand searches at one station.
func (st *site) stand(v visit) spot {
	path := st.line.Path
	p := spot{on: path.At(v.stationM), right: across(path, v.stationM, 0.75), neighbor: -1}
	at, right := vec{p.on.X, p.on.Y, 0}, vec{p.right.X, p.right.Y, 0}
	p.clean = st.clean.slice(at, right, searchM)
	p.all = p.clean
	p.alone = st.receiver.search(p.clean, 0, st.habit)
	p.found = p.alone
	if len(st.all.filaments) == len(st.clean.filaments) {
		return p
	}
	p.all = st.all.slice(at, right, searchM)
	from, most := 0.0, 0.02
	for i, n := range st.neighbors {
		if n.couple == nil {
			continue
		}
		has := cmplx.Abs(n.couple.ratio) * n.couple.window(v.stationM)
		if has > most {
			p.neighbor, most = i, has
		}
		if n.jump && v.stationM >= n.couple.fromM && v.stationM <= n.couple.toM {
			p.jumped = true
			p.neighbor, most = i, math.Inf(1)
		}
	}
	if p.jumped {
		l := st.lines[p.neighbor]
		lies := l.Path.At(l.Path.Nearest(p.on).StationM).Sub(p.on).Dot(p.right)
		from = lies
		p.found = st.receiver.search(p.all, from, st.habit)
		p.jumped = math.Abs(lies) > 0.25 && math.Abs(p.found.mark-lies) < 0.5*math.Abs(lies)
		return p
	}
	p.found = st.receiver.search(p.all, from, st.habit)
	return p
}

// read takes one reading with all the noise there is.
func (st *site) read(p spot, v visit, errs *drift, r rng, raiseM float64) tracetest.Reading {
	rc := st.receiver
	depth := st.line.DepthAt(v.stationM)
	base := math.Max(st.pinM, st.pinRel*depth)
	tilt := r.gauss(rc.tiltRad)
	// A coil tilted by t is strongest where the field leans by t: d·tan(t/2)
	// aside of a single line.
	off := r.gauss(base) + depth*math.Tan(tilt/2)
	x := p.found.mark + v.asideM + off
	rd := tracetest.Reading{TimeS: v.timeS, RaiseM: math.NaN(), FreqHz: st.freqHz, Hookup: st.hookup}
	rd.Truth = tracetest.ReadingTruth{
		StationM: v.stationM, DepthM: depth, MarkOffsetM: x, Pass: v.pass, Reverse: v.back,
		PinpointM:  math.Sqrt(base*base + sqr(depth*rc.tiltRad/2) + st.strayVariance()),
		PeakShiftM: p.found.mark, CleanShiftM: p.alone.mark, NullResidual: p.found.floor,
		ShownDepthM: rc.depth(p.all, p.found.mark+v.asideM, 0, 0), CleanDepthM: rc.depth(p.clean, p.alone.mark+v.asideM, 0, 0),
		NearCorner: st.nearCorner(v.stationM, depth),
	}
	if p.neighbor >= 0 {
		c := st.neighbors[p.neighbor].couple
		rd.Truth.Neighbor, rd.Truth.Jumped = st.lines[p.neighbor].Name, p.jumped
		rd.Truth.NeighborRatio = c.ratio * complex(c.window(v.stationM), 0)
	}
	if raiseM > 0 {
		rd.RaiseM = raiseM
	}
	st.instrument(&rd, p, x, tilt, raiseM, r)
	st.locate(&rd, p.on.Add(p.right.Scale(x)), errs)
	return rd
}

func sqr(v float64) float64 { return v * v }

// strayVariance is that of reading beside the mark on purpose or by habit.
func (st *site) strayVariance() float64 {
	return sqr(st.gait.strayM) + sqr(st.gait.zigM)/2
}

func (st *site) locate(rd *tracetest.Reading, mark geo.XY, errs *drift) {
	off, sigma, fix := errs.next(rd.TimeS, rd.Truth.StationM)
	rd.Pos, rd.Truth.SigmaM = mark.Add(off), sigma
	errs.state(rd, sigma, fix)
	rd.ElevM = 30 + 0.02*mark.X - 0.01*mark.Y + errs.r.gauss(1.6*sigma)
}

// nearCorner is within five depths of a bend or of the conductor's end.
func (st *site) nearCorner(s, depthM float64) bool {
	l := st.line
	near := func(at float64) bool { return math.Abs(at-s) < 5*depthM }
	for _, c := range l.Corners {
		if near(c.StationM) {
			return true
		}
	}
	for _, e := range l.Elements {
		if e.Kind == tracetest.Arc && e.RadiusM < 5*depthM && (near(e.FromM) || near(e.ToM) || s > e.FromM && s < e.ToM) {
			return true
		}
	}
	return near(0) || near(l.Path.Length())
}
