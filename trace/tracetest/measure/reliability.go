package measure

import (
	"fmt"
	"math"

	"loamline/trace"
	"loamline/trace/tracetest"
)

// gradedStretch is one stretch of any grade with what it lies on.
type gradedStretch struct {
	grade   trace.Grade
	score   float64
	coupled bool // at least half of it on signal that another conductor carries
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
func (b *bleedJudge) reliability() {
	for _, s := range b.graded(trace.GradeWatch, trace.GradeSuspect, trace.GradeStrong) {
		b.score.graded = append(b.score.graded, gradedStretch{s.Grade, s.Score, b.onCoupled(s) >= 0.5*(s.toM-s.fromM)})
	}
}

// scoreBins are the bins of a score, each up to the next bound.
var scoreBins = []float64{0, 0.5, 0.8, 0.9, 0.95, 0.99, math.Nextafter(1, 2)}

// writeReliability writes what a score and a grade have come to mean.
func writeReliability(t *table, rows []BleedRow) {
	t.printf("\n### What a score means: share of stretches of which half or more lies on coupled signal, %% (of how many)\n\n")
	t.printf("All families but those called fools-…; stretches of every grade on the judged lines. A score of 0.5 or more is to be read as a probability; below that it stands for how often a neighbour this close carries signal where nothing shows. The share depends on how many of the lines are coupled: of the first world's families with a neighbour in reach about two in three, of the second world's seven in ten.\n\n")
	head := []string{"score", "world"}
	for _, s := range ColumnSets {
		head = append(head, s.Name)
	}
	t.head(head...)
	worlds, of := bleedWorlds(rows)
	line := func(name string, in func(gradedStretch) bool) {
		for _, w := range worlds {
			cells := []string{name, string(w)}
			for k := range ColumnSets {
				n, coupled := 0, 0
				for _, g := range sumBleed(of[w], k, func(f tracetest.Family) bool { return !isFooling(f) }).graded {
					if in(g) {
						n, coupled = n+1, coupled+count(g.coupled)
					}
				}
				cells = append(cells, share(coupled, n))
			}
			t.row(cells...)
		}
	}
	for i, from := range scoreBins[:len(scoreBins)-1] {
		to := scoreBins[i+1]
		line(fmt.Sprintf("%.2f to %.2f", from, to), func(g gradedStretch) bool { return g.score >= from && g.score < to })
	}
	for _, grade := range []trace.Grade{trace.GradeWatch, trace.GradeSuspect, trace.GradeStrong} {
		line(string(grade), func(g gradedStretch) bool { return g.grade == grade })
	}
}
