package measure

import (
	"context"
	"math"

	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest"
)

// ColumnSet is what an instrument gives beside position and depth.
type ColumnSet struct {
	Name    string
	without []tracetest.Column
}

var signals = []tracetest.Column{tracetest.ColCurrent, tracetest.ColSignal, tracetest.ColLow, tracetest.ColHigh}

// ColumnSets are the sets that bleed-over is measured with.
var ColumnSets = []ColumnSet{
	{"all columns", []tracetest.Column{tracetest.ColSignal}},
	{"without current and signal", signals},
	{"without null offset", []tracetest.Column{tracetest.ColSignal, tracetest.ColNull}},
	{"position and depth alone", append([]tracetest.Column{tracetest.ColNull, tracetest.ColPhase}, signals...)},
}

// layout writes every column but those that the set lacks.
func (c ColumnSet) layout() tracetest.Layout { return tracetest.Plain().Without(c.without...) }

// BleedScore is what was found on some jobs with one set of columns.
type BleedScore struct {
	Events, Found     int // dangerous stretches, not jumps
	Warned            int // events, jumps too, with any grade on them, watch included
	EventM, FoundM    float64
	Jumps, JumpsFound int
	JumpsSaid         int // found and called a jump
	Stretches, True   int // suspected; of them on coupled signal
	FalseM, CoupledM  float64
	QuietM            float64 // traced without any coupled signal in the job
	QuietStretches    int
	QuietFlaggedM     float64
	Sides, SidesRight int
	shiftErr          []float64 // estimated less true displacement, one a stretch
	InBand, Banded    int       // readings in stretches with a displacement
	LargeIn, Large    int       // of them displaced by more than 0.10 m
	shiftRatio        []float64 // estimated over true, where true exceeds 0.10 m
	graded            []gradedStretch
	InCaution, InTol  int // places of the true line
	Places            int
	NotTheLine        int // places where the map says that the trace has left the line
	cautionM2, tolM2  float64
	drawnM            float64
	Lines             int
	Verdicts          Verdicts
}

func (s *BleedScore) add(o *BleedScore) {
	s.Events += o.Events
	s.Found += o.Found
	s.Warned += o.Warned
	s.EventM += o.EventM
	s.FoundM += o.FoundM
	s.Jumps += o.Jumps
	s.JumpsFound += o.JumpsFound
	s.JumpsSaid += o.JumpsSaid
	s.Stretches += o.Stretches
	s.True += o.True
	s.FalseM += o.FalseM
	s.CoupledM += o.CoupledM
	s.QuietM += o.QuietM
	s.QuietStretches += o.QuietStretches
	s.QuietFlaggedM += o.QuietFlaggedM
	s.Sides += o.Sides
	s.SidesRight += o.SidesRight
	s.shiftErr = append(s.shiftErr, o.shiftErr...)
	s.InBand += o.InBand
	s.Banded += o.Banded
	s.LargeIn += o.LargeIn
	s.Large += o.Large
	s.shiftRatio = append(s.shiftRatio, o.shiftRatio...)
	s.graded = append(s.graded, o.graded...)
	s.InCaution += o.InCaution
	s.InTol += o.InTol
	s.Places += o.Places
	s.NotTheLine += o.NotTheLine
	s.cautionM2 += o.cautionM2
	s.tolM2 += o.tolM2
	s.drawnM += o.drawnM
	s.Lines += o.Lines
	s.Verdicts.add(o.Verdicts)
}

// BleedRow is how one family came out with each of the ColumnSets.
type BleedRow struct {
	World  World
	Family tracetest.Family
	Scores []*BleedScore // parallel to ColumnSets
	Cases  []BleedCase
}

// BleedCase is a stretch missed or suspected wrongly.
type BleedCase struct {
	World           World
	Family, Columns string
	Seed            uint64
	What            string // missed, false, wrong side, outside or silent
	FromM, ToM      float64
	Detail          string
}

// Bleed measures suspected bleed-over and caution zones on every family.
func Bleed(ctx context.Context, o Options) ([]BleedRow, error) {
	var rows []BleedRow
	for _, k := range o.kinds() {
		rows = append(rows, BleedRow{World: k.World, Family: k.Family})
	}
	type part struct {
		scores []*BleedScore
		cases  []BleedCase
	}
	parts := make([]part, len(rows)*o.Seeds)
	err := each(ctx, len(parts), o.Workers, func(i int) error {
		k := kind{rows[i/o.Seeds].World, rows[i/o.Seeds].Family}
		for _, set := range ColumnSets {
			s, cases, err := bleedOne(ctx, o, k, o.FirstSeed+uint64(i%o.Seeds), set)
			if err != nil {
				return err
			}
			parts[i].scores = append(parts[i].scores, s)
			parts[i].cases = append(parts[i].cases, cases...)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i, p := range parts {
		r := &rows[i/o.Seeds]
		if r.Scores == nil {
			r.Scores = make([]*BleedScore, len(ColumnSets))
			for k := range r.Scores {
				r.Scores[k] = &BleedScore{}
			}
		}
		for k, s := range p.scores {
			r.Scores[k].add(s)
		}
		r.Cases = append(r.Cases, p.cases...)
	}
	return rows, nil
}

// bleedOne makes one job and judges it with one set of columns.
func bleedOne(ctx context.Context, o Options, k kind, seed uint64, set ColumnSet) (*BleedScore, []BleedCase, error) {
	j, err := k.World.Make(k.Family.Name, seed)
	if err != nil {
		return nil, nil, err
	}
	return bleedOf(ctx, o, k, j, set)
}

// bleedOf maps a job with one set of columns and judges its main line.
func bleedOf(ctx context.Context, o Options, k kind, j tracetest.Job, set ColumnSet) (*BleedScore, []BleedCase, error) {
	m, err := runMap(ctx, j, set.layout())
	if err != nil {
		return nil, nil, err
	}
	line, err := m.mainLine()
	if err != nil {
		return nil, nil, err
	}
	b := bleedJudge{m: m, line: line, truth: j.Lines[0], score: &BleedScore{Lines: 1},
		about: BleedCase{World: k.World, Family: k.Family.Name, Columns: set.Name, Seed: j.Seed}}
	b.judge()
	var why string
	if b.score.Verdicts, why, err = m.verdict(o, line.Setup.Name); err != nil {
		return nil, nil, err
	}
	if why != "" {
		from, to := span(j.Traces[0])
		b.note("silent", from, to, why)
	}
	return b.score, b.cases, nil
}

// suspected is a stretch that the map grades suspect or strong, in stations of
// the true line.
type suspected struct {
	finding.BleedOver
	fromM, toM float64
	along      float64 // +1 where the centerline runs with the true line
}

func (s suspected) overlap(fromM, toM float64) float64 {
	return math.Max(0, math.Min(s.toM, toM)-math.Max(s.fromM, fromM))
}
