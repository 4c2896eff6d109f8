package bleed

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
)

// courses are the pieces of a line between its corners, each with its marks
// across its own chord: what positions can say of a displacement.
type courses struct {
	piece   []int     // of each reading; -1 near a corner or set aside
	acrossM []float64 // mark across the piece's chord, positive to the right
	alongM  []float64
	white   []float64 // variance that is new at each reading
	slow    []float64 // variance that lasts: GNSS
	slowM   float64   // over this distance
	usable  bool
}

// cornerTurn is the turn within a few metres at which a line is cut in pieces: between the
// directions cornerAwayM before and behind, each over cornerOverM to both sides.
// Judgement: a chord over a sharper turn would show its sagitta for a displacement.
const (
	cornerTurn  = 14 * math.Pi / 180
	cornerAwayM = 2.5
	cornerOverM = 1.5
)

// leastInPiece is how many marks tell a course: its chord goes through the means of its
// first and its last third, two each. Judgement.
const leastInPiece = 6

// usefulSigmaM is the position error beyond which marks say nothing of shifts.
// Judgement: dangerous ones begin at dangerShiftM.
const usefulSigmaM = 0.25

func newCourses(line Line, c *columns) courses {
	n := len(c.rd)
	k := courses{make([]int, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), receiver.PlainLastsM, false}
	if len(line.Points) < 2 {
		return k
	}
	path := geo.NewPolyline(line.Points)
	piece, corner := 0, false
	for i, r := range c.rd {
		a, b := direction(path, r.StationM-cornerAwayM, cornerOverM), direction(path, r.StationM+cornerAwayM, cornerOverM)
		turn := math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
		if turn > cornerTurn {
			if !corner {
				piece++
			}
			corner, k.piece[i] = true, -1
			continue
		}
		corner, k.piece[i] = false, piece
		if r.SetAside {
			k.piece[i] = -1
		}
	}
	k.project(c, piece)
	k.noise(c)
	return k
}

// project measures each piece's marks along and across its chord.
func (k *courses) project(c *columns, last int) {
	for p := 0; p <= last; p++ {
		var at []int
		for i, q := range k.piece {
			if q == p {
				at = append(at, i)
			}
		}
		if len(at) < leastInPiece {
			for _, i := range at {
				k.piece[i] = -1
			}
			continue
		}
		m := len(at) / 3
		var a, b []geo.XY
		for _, i := range at[:m] {
			a = append(a, c.rd[i].Pos)
		}
		for _, i := range at[len(at)-m:] {
			b = append(b, c.rd[i].Pos)
		}
		from := meanXY(a)
		chord := meanXY(b).Sub(from)
		if chord.Norm() == 0 {
			continue
		}
		chord = chord.Scale(1 / chord.Norm())
		for _, i := range at {
			v := c.rd[i].Pos.Sub(from)
			k.alongM[i], k.acrossM[i] = v.Dot(chord), -chord.Cross(v)
		}
	}
}

// Of the errors of marks that are new at each reading: newPart of the stated accuracy, the
// root of the half that does not last (of a mark, which is found anew at each reading; of a
// fix by itself more lasts, receiver.CommonShare); where second differences show them, these
// scaled with what is stated of the reading, to the part statedTells, and at least
// leastOfFound of them, as stated accuracies differ by more than errors do; never less than
// leastWhiteM.
// Judgement. leastWhiteM is below receiver.LeastMarkM, as it is found and not assumed.
const (
	newPart      = 0.7
	statedTells  = 0.9
	leastOfFound = 0.7
	leastWhiteM  = 0.015
)

// noise takes the white part from second differences across, and splits the
// stated accuracy in halves that last and that are new.
func (k *courses) noise(c *columns) {
	across := make([]float64, len(c.rd))
	for i := range across {
		across[i] = k.acrossM[i]
		if k.piece[i] < 0 || i > 0 && k.piece[i] != k.piece[i-1] {
			across[i] = math.NaN()
		}
	}
	found := secondSigma(across)
	var stated []float64
	for _, r := range c.rd {
		stated = append(stated, statedSigma(r))
	}
	typical := median(stated)
	if typical < receiver.PreciseFixM {
		k.slowM = receiver.PreciseLastsM
	}
	far := outliers(across)
	for i, r := range c.rd {
		s := statedSigma(r)
		w := math.Max(receiver.PinpointM(c.depth[i]), newPart*s)
		if !math.IsNaN(found) {
			w = math.Max(leastWhiteM, math.Max(found*s/typical*statedTells, found*leastOfFound))
		}
		k.white[i], k.slow[i] = w*w, 0.5*s*s
		if far[i] > 0 {
			k.piece[i] = -1
		}
	}
	k.usable = typical < usefulSigmaM && (math.IsNaN(found) || found < usefulSigmaM)
}

func statedSigma(r reading) float64 {
	if !math.IsNaN(r.HAccM) {
		return math.Max(receiver.BestM, r.HAccM)
	}
	return receiver.UsualFixM(int(r.Fix), r.HDOP)
}

// courseWanders are the sizes tried of how a line's own course wanders: its
// direction is a random walk, in radians per root metre. Laid by machine, and
// by eye. Judgement.
var courseWanders = []float64{0.002, 0.025}

// The free line of a piece, one sigma: how far it may lie across from its chord, and turn
// from it, in radians; both far more than any does. Its course wanders from wanderFromM
// before the middle of the piece's first third on, so that its beginning is as loose as its
// end. Judgement.
const (
	chordOffM   = 5
	chordTurn   = 0.2
	wanderFromM = 50
)

// positionGaussian models the marks across a piece's chord: a free line, a course
// that wanders (an integrated random walk; Wahba, 1978, JRSS B 40:364) and the
// noise of marking and positions. y is the marks across.
func (k courses) positionGaussian(lo, hi int, wander float64, y []float64) *gaussian {
	n := hi - lo
	cov := make([]float64, n*n)
	for i := range n {
		a := lo + i
		for j := i; j < n; j++ {
			b := lo + j
			if k.piece[a] < 0 || k.piece[a] != k.piece[b] {
				continue
			}
			s, t := k.alongM[a]+wanderFromM, k.alongM[b]+wanderFromM
			if s > t {
				s, t = t, s
			}
			s = math.Max(s, 0)
			walk := wander * wander * s * s * (3*t - s) / 6 // derived: covariance of an integrated random walk at s <= t
			slow := math.Sqrt(k.slow[a]*k.slow[b]) * math.Exp(-math.Abs(s-t)/k.slowM)
			cov[i*n+j] = chordOffM*chordOffM + chordTurn*chordTurn*k.alongM[a]*k.alongM[b] + walk + slow
		}
		cov[i*n+i] += k.white[a]
		if k.piece[a] < 0 {
			cov[i*n+i] = nothing
		}
	}
	return newGaussian(cov, y)
}

// What a line's course may do by itself, one sigma: turn at a place, in radians; begin to
// bend, in radians a metre; step aside, in metres, which costs more as lines seldom do.
// In a window of mostBendPlaces readings or more, every second or third is tried, to save
// time, sooner than at mostPlaces as more kinds are. Judgement.
const (
	kinkSD         = 0.12
	curvatureSD    = 0.03
	sidestepSDM    = 0.3
	sidestepMore   = 3
	mostBendPlaces = 60
)

// explainPosition adds bends of the course: places where its direction or its
// curvature changes, and sideways steps, which are rarer.
func explainPosition(b *gaussian, c *columns, lo, hi int) {
	n := hi - lo
	k := c.course
	cost := reasonCost(n)
	kinds := []struct {
		sd, more float64
		f        func(t float64) float64
	}{
		{kinkSD, 0, func(t float64) float64 { return math.Max(0, t) }},
		{curvatureSD, 0, func(t float64) float64 { return 0.5 * math.Max(0, t) * math.Max(0, t) }},
		{sidestepSDM, sidestepMore, func(t float64) float64 {
			if t > 0 {
				return 1
			}
			return 0
		}},
	}
	f := make([]float64, n)
	for range maxReasons {
		gain, price, sd := 0.0, 0.0, 0.0
		var best []float64
		for j := 1; j < n; j += 1 + n/mostBendPlaces {
			a := lo + j
			if k.piece[a] < 0 || k.piece[a-1] != k.piece[a] {
				continue
			}
			at := (k.alongM[a] + k.alongM[a-1]) / 2
			for _, kind := range kinds {
				from, to := n, 0
				for i := range n {
					f[i] = 0
					if k.piece[lo+i] == k.piece[a] {
						f[i] = kind.f(k.alongM[lo+i] - at)
					}
					if f[i] != 0 {
						from, to = min(from, i), i+1
					}
				}
				if from > to {
					continue
				}
				p := cost + kind.more
				if g := gainOf(quad(b.prec, f, n, from, to), dot(b.py, f, from, to), kind.sd) - p; g > gain {
					gain, price, sd = g, p, kind.sd
					best = append(best[:0], f...)
				}
			}
		}
		if best == nil {
			return
		}
		b.allow(best, sd*sd, price)
	}
}

func meanXY(p []geo.XY) geo.XY {
	var s geo.XY
	for _, q := range p {
		s = s.Add(q)
	}
	return s.Scale(1 / float64(len(p)))
}
