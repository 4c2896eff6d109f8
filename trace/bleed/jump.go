package bleed

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// jumps finds runs where the marks leave the line and lie on a neighbour.
func jumps(line Line, col *columns, ix *Index, near []neighbour) []Stretch {
	var out []Stretch
	for _, e := range near {
		out = append(out, newMeeting(e, near, line, col, ix).jumps()...)
	}
	return out
}

// likelyJumps parts jumps into those to be said outright and those that are
// only possible.
func likelyJumps(all []Stretch) (said, possible []Stretch) {
	for _, s := range all {
		if s.Grade == trace.GradeWatch {
			possible = append(possible, s)
		} else {
			said = append(said, s)
		}
	}
	return said, possible
}

// confirmed raises possible jumps on which the neighbour's signal was found, and
// takes the displacement from the others.
func confirmed(possible, coupled []Stretch) []Stretch {
	out := slices.Clone(possible)
	for i, j := range out {
		for _, s := range coupled {
			if s.Grade == trace.GradeWatch || s.Neighbor != j.Neighbor || overlap(j, s) < 0.5*(s.ToM-s.FromM) {
				continue
			}
			out[i].Grade, out[i].Score = trace.GradeSuspect, max(j.Score, s.Score)
			out[i].Evidence = append(slices.Clone(j.Evidence), slices.DeleteFunc(slices.Clone(s.Evidence), isShiftUnknown)...) // the jump has a shift of its own
			if leave, ok := j.Evidence[0].(remark.MarksLeave); ok {
				leave.Likely = true
				out[i].Evidence[0] = leave
			}
		}
		if out[i].Grade == trace.GradeWatch { // no displacement is told of what is only possible
			out[i].ShiftM, out[i].Shift95M, out[i].Side = math.NaN(), math.NaN(), ""
		}
	}
	return out
}

func isShiftUnknown(r trace.Remark) bool {
	_, is := r.(remark.ShiftUnknown)
	return is
}

// onNeighbour is a reading's own position against a neighbour's path.
type onNeighbour struct {
	distM, sigmaM, depthM float64
	closer                bool // taken to be of the neighbour only where nearer
}

// meeting is one line's readings against one neighbour's path.
type meeting struct {
	neighbour
	line Line
	col  *columns
	on   []onNeighbour // one a reading
	ends [2]geo.XY     // of the neighbour's path
	path Path          // the neighbour's
	near []neighbour   // all that are within reach of the line
}

func newMeeting(e neighbour, near []neighbour, line Line, col *columns, ix *Index) meeting {
	m := meeting{neighbour: e, line: line, col: col, on: make([]onNeighbour, len(col.rd)), ends: ix.ends(e.path), path: ix.paths[e.path], near: near}
	var feet []nearPath
	for k, r := range col.rd {
		m.on[k].distM = math.Inf(1)
		feet = ix.feet(r.Pos, 4, line.Exclude, feet)
		for _, f := range feet {
			if f.path == e.path {
				m.on[k] = onNeighbour{distM: f.distM, sigmaM: math.Hypot(f.sigmaM, positionSigma(r)), depthM: f.depthM}
				if fitted := math.Abs(e.at[k].asideM); fitted < f.distM && !r.SetAside {
					m.on[k].distM = fitted
				}
			}
		}
	}
	return m
}

// jumps finds the runs on the neighbour that may be jumps. Where positions are
// so loose that the two lines seem one all along, a closer look may part them.
func (m meeting) jumps() []Stretch {
	out := m.runs(nil)
	for k := range m.on {
		m.on[k].closer = true
	}
	return m.runs(out)
}

// runs adds the runs that do not overlap those found before.
func (m meeting) runs(out []Stretch) []Stretch {
	n, before := len(m.on), len(out)
	for k := 0; k < n; k++ {
		if !m.on[k].lies() {
			continue
		}
		from, to := m.withEnds(k, m.runOn(k))
		k = to
		// From the first to the last reading, nothing tells which line it is.
		if to-from < 2 || from < 3 && to >= n-3 {
			continue
		}
		s, ok := m.jump(from, to)
		if ok && !slices.ContainsFunc(out[:before], func(o Stretch) bool { return overlap(o, s) > 0 }) {
			out = append(out, s)
		}
	}
	return out
}

// runOn returns the last reading of a run on the neighbour; three readings in
// a row may stand off it, and more where they stay near.
func (m meeting) runOn(from int) int {
	to, near := from, from
	for k := from + 1; k < len(m.on) && (k-to <= 4 || k-near <= 3 && m.lengthM(to, k) < nearReachM); k++ {
		if m.on[k].lies() {
			to, near = k, k
		} else if m.on[k].distM < 2*m.on[k].reachM() {
			near = k
		}
	}
	return to
}

// lengthM is the length from one reading to another.
func (m meeting) lengthM(from, to int) float64 {
	return m.col.rd[to].StationM - m.col.rd[from].StationM
}

// nearM is how near to the neighbour, and nearReachM over what length, the ends
// of a run may still be of it: centerlines cut the bends in which lines part.
// Judgement.
const (
	nearM      = 0.5
	nearReachM = 12
)

// withEnds carries a run on over readings that are only near the neighbour.
func (m meeting) withEnds(from, to int) (int, int) {
	i, k := from, to
	for i > 0 && m.on[i-1].distM < nearM && m.lengthM(i-1, from) < nearReachM {
		i--
	}
	for k+1 < len(m.on) && m.on[k+1].distM < nearM && m.lengthM(to, k+1) < nearReachM {
		k++
	}
	return i, k
}

// positionSigma is the error of one mark across the line, marking included.
func positionSigma(r reading) float64 {
	s := r.HAccM
	if math.IsNaN(s) {
		s = receiver.UsualFixM(int(r.Fix), r.HDOP)
	}
	d := r.DepthM
	if !(d > 0) {
		d = receiver.UsualDepthM
	}
	return math.Hypot(s, receiver.PinpointM(d))
}

// A mark lies on a neighbour within onSigmas of their errors, taken for leastOnM or more,
// where these are less than mostLooseM: looser ones lie on everything in the street.
// Judgement: more loses jumps among marks that scatter, less takes lines that run close
// for one.
const (
	onSigmas   = 2.8
	leastOnM   = 0.05
	mostLooseM = 0.75
)

func (o onNeighbour) lies() bool {
	return o.sigmaM < mostLooseM && o.distM < o.reachM()
}

// reachM is how far off a mark of the neighbour may lie.
func (o onNeighbour) reachM() float64 {
	r := onSigmas * max(leastOnM, o.sigmaM)
	if o.closer {
		return r / 2
	}
	return r
}

// clear carries an end of a run outward past the marks that both lines' fields
// move, where enough are left beyond.
func (m meeting) clear(end, step int) int {
	k := end
	for i := end + step; i-4 >= 0 && i+4 < len(m.on); i += step {
		a := math.Abs(m.at[i].asideM)
		if !(a < mixedDepths*m.col.depth[i]) || math.Abs(m.col.rd[i].StationM-m.col.rd[end].StationM) > nearReachM {
			break
		}
		k = i
	}
	return k
}

// mixedDepths is how near another line is, in depths, whose field moves a mark
// much. Judgement.
const mixedDepths = 0.8

// jump judges one run [from, to] on the neighbour.
func (m meeting) jump(from, to int) (Stretch, bool) {
	own, ok := carryOn(m.col, m.clear(from, -1), m.clear(to, 1))
	if !ok || m.lengthM(from, to) < 3 {
		return Stretch{}, false
	}
	r, ok := m.weigh(own, from, to)
	odds := logit(jumpPrior) + r.record + r.leaves + r.lies + r.steps + r.phase
	if !ok || odds < leastJumpOdds {
		return Stretch{}, false
	}
	odds = m.orTheRestJumped(odds, from, to)
	street, along := m.street(own, from, to)
	if along {
		r.asideM, r.sigmaM = street.asideM, street.sigmaFrom(own)
	}
	s := Stretch{FromM: m.col.rd[from].StationM, ToM: m.col.rd[to].StationM, Grade: trace.GradeWatch,
		Score: 1 / (1 + math.Exp(-odds)), Neighbor: m.name, Jump: true, Side: sideOf(r.asideM),
		SeparationM: math.Abs(r.asideM), ShiftM: math.Abs(r.asideM), Shift95M: min(farWiden, 1.96*r.sigmaM), LnDepth95: math.NaN(), Own: own.strips()}
	if along {
		s.Own = append(s.Own, street.strip())
	}
	if from < 3 {
		s.onward = m.onward(to)
		s.Own = append(s.Own, s.onward...)
	}
	switch {
	case s.Score >= strongCoupled && r.steps+r.phase >= 2:
		s.Grade = trace.GradeStrong
	case s.Score >= SuspectCoupled:
		s.Grade = trace.GradeSuspect
	}
	s.WidenRightM, s.WidenLeftM = s.ShiftM+s.Shift95M, max(0, s.Shift95M-s.ShiftM)
	if r.asideM < 0 {
		s.WidenRightM, s.WidenLeftM = s.WidenLeftM, s.WidenRightM
	}
	s.Evidence = m.jumpEvidence(s, r)
	return s, true
}

// jumpEvidence is what speaks for a jump and what to do, for who stands in the
// street.
func (m meeting) jumpEvidence(s Stretch, r jumpRun) []trace.Remark {
	last := r.to >= len(m.col.rd)-2
	leave := remark.MarksLeave{FromM: s.FromM, Neighbor: m.name, N: r.to - r.from + 1, BackAtM: s.ToM, Likely: s.Grade != trace.GradeWatch}
	if last {
		leave.BackAtM = trace.Unknown
	}
	out := []trace.Remark{leave, remark.OwnCourse{AsideM: s.ShiftM, Side: s.Side, OneEnd: last}}
	f := finding{from: r.from, to: r.to}
	if r.steps > 1 {
		out = append(out, present(m.col.depthAndCurrent(f))...)
	}
	out = append(out, present(m.col.againstDirection(f))...)
	if !m.reference && r.steps+r.phase < 2 {
		out = append(out, remark.OrNeighborHere{Neighbor: m.name})
	}
	again := s.FromM
	if r.from < 3 {
		again = s.ToM
	}
	return append(out, remark.TraceAgainFrom{StationM: again})
}

// farWiden is the most by which a jump's caution reaches past the line's likely
// course, in metres: beyond it the place where the marks left says more. Judgement.
const farWiden = 3
