//go:build !race

package measure

import (
	"context"
	"testing"

	"loamline.example/export/geojson"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/study"
)

// limits are what a few fixed jobs of each world must keep. They stand well
// inside what testdata/accuracy.md promises over many more jobs, so that what
// breaks them is an error and not chance: the share of places that a 95 % band
// holds falls from 0.97 to 0.92 in the first world and from 0.95 to 0.88 in the second where
// every band of the map is 0.7 times as wide, and such places are far from independent.
type limits struct {
	across, depth  float64 // share of places that the map does not doubt in the 95 % band, at least
	acrossMost     float64 // and at most, for a band that holds everything says nothing
	caution        float64 // share of the true line held by the caution zones, at least
	told           float64 // share held by them, or in a gap or told of, at least
	doubted        float64 // share of the lines that the map itself doubts, at most
	leaps          float64 // share of leaps over four sigma set aside or told in doubt, at least
	goodLost       float64 // share of good readings set aside, at most
	found          float64 // share of dangerous stretches and jumps found, at least
	sides          float64 // share of likely sides that are right, at least
	falseStretches int     // suspected on quiet lines, at most
	undrawn        float64 // share of the true line that no map draws, at most
	fewLeaps       int     // of how many at least, lest a check count nothing
	fewStretches   int
}

// Both worlds' stand by the published tables; the second world draws every condition
// from wide ranges, so that a few jobs of it say less.
var kept = map[World]limits{
	FirstWorld:  {across: 0.94, acrossMost: 0.995, depth: 0.90, caution: 0.985, told: 0.995, doubted: 0.30, leaps: 0.85, goodLost: 0.02, found: 0.85, sides: 0.85, falseStretches: 1, undrawn: 0.02, fewLeaps: 30, fewStretches: 15},
	SecondWorld: {across: 0.91, acrossMost: 0.995, depth: 0.90, caution: 0.97, told: 0.985, doubted: 0.45, leaps: 0.85, goodLost: 0.04, found: 0.70, sides: 0.50, falseStretches: 10, undrawn: 0.04, fewLeaps: 25, fewStretches: 5},
}

// The families stand for shapes, fixes, faults and neighbours. Of the quiet ones
// centerline, bands and readings set aside are judged in the layout that the
// seed draws; of all, zones and suspicions with every column.
var keptFamilies = map[World]struct {
	seeds          uint64
	quiet, coupled []string
}{
	FirstWorld: {5, []string{"straight", "elbow-90", "mixed", "float", "unstated", "blunders-rtk", "blunders-loose", "blunders-sweep", "near-clean"},
		[]string{"bleed-same", "bleed-return", "bleed-visiting", "bleed-unknown", "jump"}},
	SecondWorld: {3, []string{"straight", "elbows", "float", "unstated", "leaps", "bursts", "dive", "near-quiet"},
		[]string{"coupled-known", "coupled-unknown", "bonded", "jump-known", "jump-unknown"}},
}

const firstKeptSeed = 400

// keptOfEach jobs of every family, odd ones and all, are held to the same limits but for
// counts: about as many false stretches a quiet job, or fewer, and as many leaps and
// dangerous stretches as tell something.
const keptOfEach = 2

var keptOnEvery = map[World]limits{
	FirstWorld:  kept[FirstWorld].ofMany(2, 25, 20),
	SecondWorld: kept[SecondWorld].ofMany(10, 20, 10),
}

func (l limits) ofMany(falseStretches, fewLeaps, fewStretches int) limits {
	l.falseStretches, l.fewLeaps, l.fewStretches = falseStretches, fewLeaps, fewStretches
	return l
}

func TestLimitsOnFixedJobs(t *testing.T) {
	if testing.Short() {
		t.Skip("maps a hundred jobs")
	}
	for _, w := range study.Some(1, SecondWorld, FirstWorld) {
		of := keptFamilies[w]
		t.Run(string(w), func(t *testing.T) {
			t.Parallel()
			holdsLimits(t, w, of.quiet, of.coupled, of.seeds, kept[w])
		})
	}
}

// Nothing that a simulator can make is left out: what the few families above do not
// stand for would be found here.
func TestLimitsOnEveryFamily(t *testing.T) {
	if !study.Full() {
		t.Skip("maps a job of every family: LOAMLINE_STUDIES asks for it")
	}
	for _, w := range Worlds {
		var quiet, coupled []string
		for _, f := range w.Families() {
			if f.CarriesBleed {
				coupled = append(coupled, f.Name)
			} else {
				quiet = append(quiet, f.Name)
			}
		}
		t.Run(string(w), func(t *testing.T) {
			t.Parallel()
			holdsLimits(t, w, quiet, coupled, keptOfEach, keptOnEvery[w])
		})
	}
}

// holdsLimits maps some seeds of each family and counts what the limits are about.
func holdsLimits(t *testing.T, w World, quietFamilies, coupledFamilies []string, seeds uint64, l limits) {
	fit, zones, undrawnM, tracedM, places := &Score{}, &BleedScore{}, 0.0, 0.0, 0
	jobs := func(families []string, f func(j tracetest.Job, k kind)) {
		for _, name := range families {
			for seed := uint64(firstKeptSeed); seed < firstKeptSeed+seeds; seed++ {
				j, err := w.Make(name, seed)
				if err != nil {
					t.Fatal(err)
				}
				f(j, kind{w, tracetest.Family{Name: name}})
			}
		}
	}
	suspect := func(j tracetest.Job, k kind) {
		s, _, err := bleedOf(context.Background(), Options{GeoJSON: geojson.Write}, k, j, ColumnSets[0])
		if err != nil {
			t.Fatal(err)
		}
		zones.add(s)
	}
	jobs(quietFamilies, func(j tracetest.Job, k kind) {
		m, err := runMap(context.Background(), j, j.Layout)
		if err != nil {
			t.Fatal(err)
		}
		line, err := m.mainLine()
		if err != nil {
			t.Fatal(err)
		}
		from, to := span(j.Traces[0])
		c := m.curve(line.Centerline)
		truth := j.Lines[j.Traces[0].Line]
		one := compare(m.curve(undoubted(line)), truth, from, to)
		one.judge(m, truth, line)
		one.LeapsFound += leapsInDoubt(m, truth, line)
		fit.add(one)
		places += len(c.samples())
		tracedM += to - from
		for st := from; st <= to; st += everyM {
			if _, drawn := c.distance(truth.Path.At(st)); !drawn {
				undrawnM += everyM
			}
		}
		before := zones.Stretches
		suspect(j, k)
		if n := zones.Stretches - before; n > 0 {
			t.Logf("%s seed %d: %d suspected", k.Family.Name, j.Seed, n)
		}
	})
	quiet := *zones
	jobs(coupledFamilies, suspect)

	across, depth := fit.Coverage()
	share := func(n, of int) float64 { return float64(n) / float64(of) }
	dangerous, found := zones.Events+zones.Jumps, zones.Found+zones.JumpsFound
	for _, c := range []struct {
		what        string
		got         float64
		least, most float64
	}{
		{"places in the band across", across, l.across, l.acrossMost},
		{"places in the band of depth", depth, l.depth, 1},
		{"of the true line in caution zones", share(zones.InCaution, zones.Places), l.caution, 1},
		{"of it there, in gaps or told of", 1 - zones.Verdicts.UntoldM/zones.Verdicts.ReadM, l.told, 1},
		{"of the lines in doubt", 1 - share(len(fit.out), places), 0, l.doubted},
		{"leaps set aside or told in doubt", share(fit.LeapsFound, fit.Leaps), l.leaps, 1},
		{"good readings set aside", share(fit.GoodLost, fit.Good), 0, l.goodLost},
		{"dangerous stretches found", share(found, dangerous), l.found, 1},
		{"likely sides right", share(zones.SidesRight, zones.Sides), l.sides, 1},
		{"of the line not drawn", undrawnM / tracedM, 0, l.undrawn},
	} {
		t.Logf("%-38s %.3f (%.3f to %.3f)", c.what, c.got, c.least, c.most)
		if !(c.got >= c.least && c.got <= c.most) {
			t.Errorf("%s: %.3f, want %.3f to %.3f", c.what, c.got, c.least, c.most)
		}
	}
	t.Logf("%d leaps, %d dangerous stretches, %d sides, false %d+%d, rmse %.3f", fit.Leaps, dangerous, zones.Sides, quiet.QuietStretches, zones.Stretches-zones.True-quiet.Stretches, fit.RMSE())
	if quiet.Stretches > l.falseStretches {
		t.Errorf("%d stretches suspected on quiet lines, want %d at most", quiet.Stretches, l.falseStretches)
	}
	if fit.Leaps < l.fewLeaps || dangerous < l.fewStretches {
		t.Errorf("%d leaps and %d dangerous stretches are too few to tell anything", fit.Leaps, dangerous)
	}
}

// inDoubt reports whether the map tells people not to trust a place of a line.
func inDoubt(line *trace.Line, stationM float64) bool {
	for _, f := range line.Findings {
		_, doubt := f.(finding.Doubt)
		if b, ok := f.(finding.BleedOver); ok && b.Jump {
			doubt = true
		}
		if from, to := f.Span(); doubt && stationM >= from && stationM <= to {
			return true
		}
	}
	return false
}

// undoubted is what a line claims without a word against it.
func undoubted(line *trace.Line) *trace.Centerline {
	if line.Centerline == nil {
		return nil
	}
	var out trace.Centerline
	for _, p := range line.Centerline.Parts {
		var q trace.Part
		for _, v := range p.Vertices {
			if !inDoubt(line, v.StationM) {
				q.Vertices = append(q.Vertices, v)
				continue
			}
			if len(q.Vertices) > 1 {
				out.Parts = append(out.Parts, q)
			}
			q = trace.Part{}
		}
		if len(q.Vertices) > 1 {
			out.Parts = append(out.Parts, q)
		}
	}
	return &out
}

// leapsInDoubt counts the leaps that were used where the map tells that its line
// is not to be trusted.
func leapsInDoubt(m mapped, l tracetest.Line, line *trace.Line) (n int) {
	for _, r := range line.Readings {
		if t, ok := m.truth(r); ok && t.Truth.Blunder && matters(t, l) && r.Status == trace.StatusUsed && inDoubt(line, r.StationM) {
			n++
		}
	}
	return n
}
