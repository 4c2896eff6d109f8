package measure

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest"
)

// bleedJudge compares the findings on one line with its truth.
type bleedJudge struct {
	m     mapped
	line  *trace.Line
	truth tracetest.Line
	score *BleedScore
	about BleedCase
	cases []BleedCase
}

func (b *bleedJudge) note(what string, fromM, toM float64, detail string) {
	c := b.about
	c.What, c.FromM, c.ToM, c.Detail = what, fromM, toM, detail
	b.cases = append(b.cases, c)
}

// evidenceOf is what speaks for a suspicion: kinds with their figures in metres.
func evidenceOf(f finding.BleedOver) string {
	kinds := make([]string, len(f.Evidence))
	for i, e := range f.Evidence {
		kinds[i] = strings.TrimPrefix(fmt.Sprintf("%#v", e), "remark.")
	}
	return strings.Join(kinds, ", ")
}

// byStation returns the line's readings on the ground in order of true station.
func (b *bleedJudge) byStation() []tracetest.Reading {
	var out []tracetest.Reading
	for _, r := range b.m.job.Traces[0].Readings {
		if math.IsNaN(r.RaiseM) && !r.Exposed {
			out = append(out, r)
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].Truth.StationM < out[k].Truth.StationM })
	return out
}

// suspects returns the stretches graded suspect or strong.
func (b *bleedJudge) suspects() []suspected {
	return b.graded(trace.GradeSuspect, trace.GradeStrong)
}

func (b *bleedJudge) graded(grades ...trace.Grade) []suspected {
	var out []suspected
	for _, f := range b.line.Findings {
		o, ok := f.(finding.BleedOver)
		if !ok || !slices.Contains(grades, o.Grade) || len(o.Path) == 0 {
			continue
		}
		s := suspected{BleedOver: o, along: 1}
		first := b.truth.Path.Nearest(b.m.toJob(o.Path[0])).StationM
		last := b.truth.Path.Nearest(b.m.toJob(o.Path[len(o.Path)-1])).StationM
		s.fromM, s.toM = first, last
		if last < first {
			s.fromM, s.toM, s.along = last, first, -1
		}
		out = append(out, s)
	}
	return out
}

// foundShare is how much of an event suspicion must cover to count as found.
const foundShare = 0.25

func (b *bleedJudge) judge() {
	rds := b.byStation()
	from, to := span(b.m.job.Traces[0])
	sus := b.suspects()
	for _, e := range events(rds) {
		b.event(e, sus)
	}
	coupled := b.m.job.Couplings
	if len(coupled) == 0 {
		b.score.QuietM += to - from
		b.score.QuietStretches += len(sus)
	}
	for _, c := range coupled {
		b.score.CoupledM += c.ToM - c.FromM
	}
	for _, s := range sus {
		b.score.Stretches++
		on := b.onCoupled(s)
		length := s.toM - s.fromM
		b.score.FalseM += math.Max(0, length-on)
		switch {
		case len(coupled) == 0:
			b.score.QuietFlaggedM += length
			b.note("false", s.fromM, s.toM, fmt.Sprintf("%s %.2f %s: %s", s.Grade, s.Score, s.Neighbor, evidenceOf(s.BleedOver)))
		case on > 0:
			b.score.True++
		default:
			b.note("false", s.fromM, s.toM, fmt.Sprintf("beside coupled signal; %s %.2f %s: %s", s.Grade, s.Score, s.Neighbor, evidenceOf(s.BleedOver)))
		}
		b.displacement(s, rds)
	}
	b.reliability(rds)
	b.zones(from, to)
}

func (b *bleedJudge) event(e event, sus []suspected) {
	length := e.toM - e.fromM
	covered, said := e.coveredBy(sus)
	watched, _ := e.coveredBy(b.graded(trace.GradeWatch))
	found := covered >= foundShare*length
	b.score.Warned += count(covered+watched >= foundShare*length)
	if !found {
		b.note("missed", e.fromM, e.toM, fmt.Sprintf("jump %t, displaced up to %.2f m, %.0f %% covered; %s", e.jump, e.shiftM, 100*covered/length, b.couplingWords(e)))
	}
	if e.jump {
		b.score.Jumps++
		b.score.JumpsFound += count(found)
		b.score.JumpsSaid += count(found && said)
		return
	}
	b.score.Events++
	b.score.Found += count(found)
	b.score.EventM += length
	b.score.FoundM += covered
}

// coveredBy returns over how many metres of an event some stretches lie, and
// whether one of them is called a jump.
func (e event) coveredBy(sus []suspected) (coveredM float64, jump bool) {
	for _, s := range sus {
		if o := s.overlap(e.fromM, e.toM); o > 0 {
			coveredM += o
			jump = jump || s.Jump
		}
	}
	return math.Min(coveredM, e.toM-e.fromM), jump
}

// couplingWords tells what carries the signal at an event, for whoever mends
// the detector.
func (b *bleedJudge) couplingWords(e event) string {
	mid := (e.fromM + e.toM) / 2
	var words []string
	for _, c := range b.m.job.Couplings {
		n, ok := b.m.job.LineNamed(c.Neighbor)
		if !ok || mid < c.FromM || mid > c.ToM {
			continue
		}
		f := n.Path.Nearest(b.truth.Path.At(mid))
		words = append(words, fmt.Sprintf("%s (on record %t, unknown %t) %.2f m away, %.2f deep against %.2f, ratio %.2f",
			n.Name, n.Known, n.Hidden, math.Abs(f.OffsetM), n.DepthAt(f.StationM), b.truth.DepthAt(mid), c.Ratio))
	}
	return strings.Join(words, "; ")
}
