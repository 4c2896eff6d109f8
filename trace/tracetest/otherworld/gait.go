package otherworld

import "math"

// gait is how a locator goes along the line.
type gait struct {
	spacingM  float64
	loose     float64 // spread of the spacing, relative; 1 is wholly irregular
	logS      float64 // a reading every so many seconds whatever he does; 0 where he stops for each
	speedMS   float64
	passes    []bool  // one a pass: walked backwards
	waitS     float64 // between passes
	gap       [2]float64
	strayM    float64 // slow sideways drift of where he reads, one sigma
	strayOver float64 // along so many metres
	zigM      float64 // swings across the line by so much to either side
	zigOver   float64 // one swing there and back takes so many metres
}

// visit is one reading to be taken.
type visit struct {
	stationM, timeS, asideM float64
	pass                    int
	back                    bool
}

// drawGait gives a gait and a length that suits it.
func drawGait(r rng) (gait, float64) {
	g := gait{spacingM: r.scale(0.8, 15), loose: r.scale(0.03, 0.5), speedMS: r.in(0.4, 1.3), passes: []bool{r.yes(0.25)}}
	if r.yes(0.12) {
		g.logS = pick(r, 1.0, 1, 2, 5)
	}
	n := r.scale(22, 120)
	length := math.Max(25, math.Min(700, g.spacingM*n))
	if g.logS > 0 {
		length = math.Max(25, math.Min(250, g.logS*g.speedMS*n))
	}
	if r.yes(0.1) {
		g.passes, g.waitS = append(g.passes, r.yes(0.5)), r.scale(60, 3600)
	}
	if r.yes(0.15) {
		g.strayM, g.strayOver = r.scale(0.02, 0.15), r.scale(3, 20)
	}
	return g, length
}

// visits lists the readings between two stations, in the order taken.
func (g gait) visits(r rng, fromM, toM, startS float64) []visit {
	var out []visit
	t := startS
	for pass, back := range g.passes {
		if pass > 0 {
			t += g.waitS
		}
		aside := g.aside(r)
		run := g.stations(r, toM-fromM)
		for _, v := range run {
			s := fromM + v.stationM
			if back {
				s = toM - v.stationM
			}
			if u := (s - fromM) / (toM - fromM); u > g.gap[0] && u < g.gap[1] {
				continue
			}

			out = append(out, visit{stationM: s, timeS: t + v.timeS, asideM: aside(v.stationM), pass: pass, back: back})
		}
		if len(run) > 0 {
			t += run[len(run)-1].timeS
		}
	}
	return out
}

// stations are one pass over a length, from zero.
func (g gait) stations(r rng, lengthM float64) []visit {
	var out []visit
	s, t := 0.0, 0.0
	if g.logS > 0 {
		halt := 0.0
		for s <= lengthM && len(out) < 400 {
			out = append(out, visit{stationM: s, timeS: t})
			t += g.logS
			if halt > 0 {
				halt -= g.logS
				continue
			}
			s += g.logS * g.speedMS * r.in(0.7, 1.3)
			if r.yes(0.02 * g.logS) {
				halt = r.scale(5, 30)
			}
		}
		return out
	}
	for s <= lengthM {
		out = append(out, visit{stationM: s, timeS: t})
		ds := g.spacingM * math.Max(0.15, 1+r.gauss(g.loose))
		if g.loose >= 1 {
			ds = math.Max(0.3, math.Min(30, g.spacingM*r.ExpFloat64()))
		}
		s, t = s+ds, t+ds/g.speedMS+r.scale(2, 25)
	}
	return out
}

// aside is where beside the mark he reads, by distance gone.
func (g gait) aside(r rng) func(s float64) float64 {
	a, b, c := r.in(0, 2*math.Pi), r.in(0, 2*math.Pi), r.in(0.6, 1.6)
	return func(s float64) float64 {
		var off float64
		if g.strayM > 0 {
			k := 2 * math.Pi / (3 * g.strayOver)
			off += g.strayM * (math.Sin(k*s+a) + math.Sin(c*k*s+b))
		}
		if g.zigM > 0 {
			off += g.zigM * math.Sin(2*math.Pi*s/g.zigOver+a)
		}
		return off
	}
}
