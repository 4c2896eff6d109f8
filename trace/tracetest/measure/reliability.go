package measure

import (
	"fmt"
	"math"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest"
)

// gradedStretch is one stretch of any grade with what it lies on.
type gradedStretch struct {
	grade     trace.Grade
	score     float64
	kind      string // jump, known or unknown
	coupled   bool   // at least half of it on signal that another conductor carries
	displaced bool   // over foundShare of its readings mark or depth are displaced
}

// The kinds of stretches that scores are told for apart.
const (
	kindJump    = "jump"
	kindKnown   = "coupling, known neighbour"
	kindUnknown = "coupling, unknown neighbour"
)

func kindOf(o finding.BleedOver) string {
	switch {
	case o.Jump:
		return kindJump
	case o.Neighbor == unknownNeighbor:
		return kindUnknown
	}
	return kindKnown
}

// unknownNeighbor is what a map names a neighbour that is on no map.
const unknownNeighbor = "unknown"

// displacedIn reports whether over foundShare of the readings of a stretch the mark
// or the depth is displaced.
func displacedIn(s suspected, rds []tracetest.Reading) bool {
	n, displaced := 0, 0
	for _, r := range rds {
		if r.Truth.StationM >= s.fromM && r.Truth.StationM <= s.toM {
			n, displaced = n+1, displaced+count(r.Truth.Displaced())
		}
	}
	return n > 0 && float64(displaced) >= foundShare*float64(n)
}

// onCoupled returns over how many metres a stretch lies on coupled signal, each
// coupling taken 3 m longer at either end.
func (b *bleedJudge) onCoupled(s suspected) (onM float64) {
	for _, c := range b.m.job.Couplings {
		onM += s.overlap(c.FromM-3, c.ToM+3)
	}
	return onM
}

// reliability notes every stretch, watch too, with its score.
func (b *bleedJudge) reliability(rds []tracetest.Reading) {
	for _, s := range b.graded(trace.GradeWatch, trace.GradeSuspect, trace.GradeStrong) {
		b.score.graded = append(b.score.graded, gradedStretch{s.Grade, s.Score, kindOf(s.BleedOver),
			b.onCoupled(s) >= 0.5*(s.toM-s.fromM), displacedIn(s, rds)})
	}
}

// scoreBins are the bins of a score, each up to the next bound.
var scoreBins = []float64{0, 0.2, 0.5, 0.8, 0.9, 0.95, math.Nextafter(1, 2)}

// writeReliability writes what a score and a grade have come to mean.
func writeReliability(t *table, rows []BleedRow) {
	t.printf("\n### What a score means: share of stretches where mark or depth is displaced, %% (of how many)\n\n")
	t.printf("A score is to be read as the probability that the mark is displaced there by more than 0.10 m or the depth by more than 25 %%; here: over %.0f %% or more of the stretch's readings. All families but those called fools-…; stretches of every grade on the judged lines. In the last rows, on other conductors' signal: half or more of the stretch, displaced or not.\n\n", 100*foundShare)
	head := []string{"score", "world"}
	for _, s := range ColumnSets {
		head = append(head, s.Name)
	}
	t.head(head...)
	worlds, of := bleedWorlds(rows)
	unfooled := func(f tracetest.Family) bool { return !isFooling(f) }
	line := func(name string, in, holds func(gradedStretch) bool) {
		for _, w := range worlds {
			cells := []string{name, string(w)}
			for k := range ColumnSets {
				cells = append(cells, shareOf(sumBleed(of[w], k, unfooled).graded, in, holds))
			}
			t.row(cells...)
		}
	}
	displaced := func(g gradedStretch) bool { return g.displaced }
	for i := range scoreBins[:len(scoreBins)-1] {
		line(binName(i), inBin(i), displaced)
	}
	for _, grade := range []trace.Grade{trace.GradeWatch, trace.GradeSuspect, trace.GradeStrong} {
		in := func(g gradedStretch) bool { return g.grade == grade }
		line(string(grade), in, displaced)
		line(string(grade)+", on others' signal", in, func(g gradedStretch) bool { return g.coupled })
	}
	writeReliabilityByKind(t, worlds, of)
}

// writeReliabilityByKind parts the scores by what is suspected, all sets of columns
// together.
func writeReliabilityByKind(t *table, worlds []World, of map[World][]BleedRow) {
	t.printf("\nThe same by what is suspected, the sets of columns taken together:\n\n")
	head := []string{"suspected", "world"}
	for i := range scoreBins[:len(scoreBins)-1] {
		head = append(head, binName(i))
	}
	t.head(head...)
	for _, kind := range []string{kindJump, kindKnown, kindUnknown} {
		for _, w := range worlds {
			var all []gradedStretch
			for k := range ColumnSets {
				all = append(all, sumBleed(of[w], k, func(f tracetest.Family) bool { return !isFooling(f) }).graded...)
			}
			cells := []string{kind, string(w)}
			for i := range scoreBins[:len(scoreBins)-1] {
				in := inBin(i)
				cells = append(cells, shareOf(all, func(g gradedStretch) bool { return g.kind == kind && in(g) }, func(g gradedStretch) bool { return g.displaced }))
			}
			t.row(cells...)
		}
	}
}

func binName(i int) string {
	return fmt.Sprintf("%.2f to %.2f", scoreBins[i], scoreBins[i+1])
}

func inBin(i int) func(gradedStretch) bool {
	return func(g gradedStretch) bool { return g.score >= scoreBins[i] && g.score < scoreBins[i+1] }
}

// shareOf is the share of the stretches in question of which something is true.
func shareOf(all []gradedStretch, in, holds func(gradedStretch) bool) string {
	n, yes := 0, 0
	for _, g := range all {
		if in(g) {
			n, yes = n+1, yes+count(holds(g))
		}
	}
	return share(yes, n)
}
