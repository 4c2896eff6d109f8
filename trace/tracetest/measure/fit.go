package measure

import (
	"context"
	"math"
	"time"

	"loamline.example/trace/tracetest"
)

// Methods are the columns of the accuracy tables, in order.
var Methods = []string{"loamline", "dots", "average of 5", "LOWESS", "spline", "oracle"}

// FitRow is how each of the Methods did on one family.
type FitRow struct {
	World  World
	Family tracetest.Family
	Scores []*Score // parallel to Methods
	Worst  []Case   // loamline's worst jobs
}

// Case is one job and how far off it came out.
type Case struct {
	World                 World
	Family                string
	Seed                  uint64
	RMSE, WorstM          float64
	Covered, DepthCovered float64
	OracleRMSE            float64
	Readings              int
}

// Fit measures the fit on the main line of every family that carries no
// bleed-over.
func Fit(ctx context.Context, o Options) ([]FitRow, error) {
	var rows []FitRow
	for _, k := range o.kinds() {
		if !k.Family.CarriesBleed {
			rows = append(rows, FitRow{World: k.World, Family: k.Family, Scores: newScores(), Worst: make([]Case, o.Seeds)})
		}
	}
	n := o.Seeds
	parts := make([][][]*Score, len(rows))
	for i := range parts {
		parts[i] = make([][]*Score, n)
	}
	err := each(ctx, len(rows)*n, o.Workers, func(i int) error {
		f, k := i/n, i%n
		s, c, err := fitOne(ctx, rows[f].World, rows[f].Family.Name, o.FirstSeed+uint64(k))
		parts[f][k], rows[f].Worst[k] = s, c
		return err
	})
	if err != nil {
		return nil, err
	}
	for f := range rows {
		for _, scores := range parts[f] {
			for m, s := range scores {
				rows[f].Scores[m].add(s)
			}
		}
	}
	return rows, nil
}

func newScores() []*Score {
	out := make([]*Score, len(Methods))
	for i := range out {
		out[i] = &Score{}
	}
	return out
}

// fitOne measures all methods on the first trace of a job.
func fitOne(ctx context.Context, world World, family string, seed uint64) ([]*Score, Case, error) {
	j, err := world.Make(family, seed)
	if err != nil {
		return nil, Case{}, err
	}
	t := j.Traces[0]
	l := j.Lines[t.Line]
	from, to := span(t)
	begin := time.Now()
	m, err := runMap(ctx, j, j.Layout)
	if err != nil {
		return nil, Case{}, err
	}
	took := time.Since(begin).Seconds()
	line, err := m.mainLine()
	if err != nil {
		return nil, Case{}, err
	}
	own := compare(m.curve(line.Centerline), l, from, to)
	own.Seconds, own.Readings = took, len(line.Readings)
	own.judge(m, l, line)
	scores := []*Score{own}
	w := walked(t, j.Layout)
	for _, smooth := range []func(t, v []float64) []float64{dots, movingAverage, lowess, spline} {
		scores = append(scores, compare(w.curve(smooth), l, from, to))
	}
	best := ask(j, t, from, to)
	scores = append(scores, best)
	c := Case{World: world, Family: family, Seed: seed, RMSE: rms(append(append([]float64(nil), own.out...), own.back...)), OracleRMSE: best.RMSE(), Readings: len(line.Readings)}
	a, b := own.Worst()
	c.WorstM = math.Max(a, b)
	c.Covered, c.DepthCovered = own.Coverage()
	return scores, c, nil
}

// ask puts the oracle to the same trace.
func ask(j tracetest.Job, t tracetest.Trace, from, to float64) *Score {
	o := oracle{job: j, line: j.Lines[t.Line], noise: t.Noise}
	for _, r := range t.Readings {
		if math.IsNaN(r.RaiseM) && !r.Truth.Blunder {
			o.rds = append(o.rds, r)
		}
	}
	for s := from; s <= to; s += everyM {
		o.places = append(o.places, s)
	}
	s := &Score{Traces: 1}
	for _, e := range o.across() {
		err := math.Abs(e.errorM)
		s.out, s.back = append(s.out, err), append(s.back, err)
		if atCorner(o.line, e.stationM) {
			s.corner = append(s.corner, err)
		}
		s.wide = append(s.wide, 1.96*e.sdM)
		s.wideIn += count(err <= 1.96*e.sdM)
	}
	for _, e := range o.depth(t) {
		err := math.Abs(e.errorM)
		s.depth, s.depthBand = append(s.depth, err), append(s.depthBand, 1.96*e.sdM)
		s.depthIn += count(err <= 1.96*e.sdM)
	}
	return s
}
