package measure

import (
	"bytes"
	"fmt"
	"math"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/cases"
)

// Verdicts counts maps by what they are to the person who digs by them: the true
// line lies within what the map claims, or it does not and the map says so there,
// or it does not and looks sure.
type Verdicts struct {
	Drawn, Told, Silent int
	ReadM, UntoldM      float64 // of true line read; of it neither in the caution zone nor told of
}

func (v *Verdicts) add(o Verdicts) {
	v.Drawn += o.Drawn
	v.Told += o.Told
	v.Silent += o.Silent
	v.ReadM += o.ReadM
	v.UntoldM += o.UntoldM
}

func (v Verdicts) total() int { return v.Drawn + v.Told + v.Silent }

// verdictBands is how many half-widths of a 95 % band count as within it: of
// thousands of maps one place in twenty is outside by right, and a walk's common
// error takes whole lines with it; twice the band is what chance hardly does.
const verdictBands = 2

// verdict judges the finished map of a job, as a file, by the same judge as the
// small cases.
func (m mapped) verdict(o Options, name string) (Verdicts, string, error) {
	if o.GeoJSON == nil {
		return Verdicts{}, "", nil
	}
	var file bytes.Buffer
	if err := o.GeoJSON(&file, m.sheet); err != nil {
		return Verdicts{}, "", err
	}
	j, err := cases.Judge(file.Bytes(), m.buried(name), cases.Options{BandFactor: verdictBands})
	if err != nil {
		return Verdicts{}, "", fmt.Errorf("%s seed %d: %w", m.job.Family, m.job.Seed, err)
	}
	out := Verdicts{ReadM: j.ReadM, UntoldM: j.UntoldM}
	switch j.Verdict {
	case cases.Drawn:
		out.Drawn = 1
	case cases.Told:
		out.Told = 1
	default:
		out.Silent = 1
		return out, j.Why[len(j.Why)-1], nil
	}
	return out, "", nil
}

// buried is the truth of the job's first trace, under the name that the map has
// for it, read from its first to its last reading.
func (m mapped) buried(name string) cases.Truth {
	t := m.job.Traces[0]
	l := m.job.Lines[t.Line]
	line := cases.TrueLine{Name: name, DepthM: l.DepthM, GroundM: math.NaN()}
	for _, p := range l.Path.Points {
		line.Path = append(line.Path, m.job.Plane.LonLat(p))
	}
	truth := cases.Truth{Lines: []cases.TrueLine{line}}
	from, to := span(t)
	for _, station := range []float64{from, to} {
		truth.Read = append(truth.Read, cases.Place{Line: name, At: m.lonLat(l, station), DepthM: math.NaN()})
	}
	return truth
}

func (m mapped) lonLat(l tracetest.Line, stationM float64) geo.LonLat {
	return m.job.Plane.LonLat(l.Path.At(stationM))
}

// writeVerdicts writes how many maps were wrong and looked sure.
func writeVerdicts(t *table, rows []BleedRow) {
	t.printf("\n### Wrong and looking sure: maps, %% (of how many)\n\n")
	t.printf("A map is **silent** where it is wrong and says nothing: more than half a metre of the true line outside its caution zone, ")
	t.printf("or more than a tenth of the drawn length off by over %d times its 95 %% band in position or depth, ", verdictBands)
	t.printf("or a metre in one piece by 0.15 m more than that, with no word about that place under *Check before digging*. It is **told** where it is as wrong and says so. ")
	t.printf("One in twenty is outside its own band by right and correlated errors take whole lines with them, hence the factor.\n\n")
	head := []string{"world", "family"}
	for _, s := range ColumnSets {
		head = append(head, "silent, "+s.Name)
	}
	for _, s := range []ColumnSet{ColumnSets[0], ColumnSets[len(ColumnSets)-1]} {
		head = append(head, "told, "+s.Name)
	}
	t.head(head...)
	line := func(world World, name string, scores []*BleedScore) {
		cells := []string{string(world), name}
		for _, s := range scores {
			cells = append(cells, share(s.Verdicts.Silent, s.Verdicts.total()))
		}
		for _, s := range []*BleedScore{scores[0], scores[len(scores)-1]} {
			cells = append(cells, share(s.Verdicts.Told, s.Verdicts.total()))
		}
		t.row(cells...)
	}
	for _, r := range rows {
		line(r.World, r.Family.Name, r.Scores)
	}
	worlds, of := bleedWorlds(rows)
	for _, g := range []struct {
		name string
		pick func(tracetest.Family) bool
	}{{"**quiet**", isQuiet}, {"**coupled**", isBleed}, {"**jumps**", isJump}, {"**fooling**", isFooling}, {"**all but fooling**", func(f tracetest.Family) bool { return !isFooling(f) }}} {
		for _, w := range worlds {
			var scores []*BleedScore
			for k := range ColumnSets {
				scores = append(scores, sumBleed(of[w], k, g.pick))
			}
			if scores[0].Lines > 0 {
				line(w, g.name, scores)
			}
		}
	}
}
