package tracetest

import (
	"bytes"
	"math"
	"testing"

	"loamline.example/trace/tracetest/study"
)

// The same family and seed give the same files; another seed gives others.
func TestDeterministic(t *testing.T) {
	for _, f := range Families() {
		files := func(seed uint64) []byte {
			j, err := Make(f.Name, seed)
			if err != nil {
				t.Fatal(err)
			}
			fs, err := j.Files(j.Layout)
			if err != nil {
				t.Fatal(f.Name, err)
			}
			var all []byte
			for _, f := range fs {
				all = append(append(all, f.Name...), f.Bytes...)
			}
			return all
		}
		a := files(7)
		if !bytes.Equal(a, files(7)) {
			t.Errorf("%s: two runs differ", f.Name)
		}
		if bytes.Equal(a, files(8)) {
			t.Errorf("%s: seeds 7 and 8 are the same", f.Name)
		}
	}
	if _, err := Make("no-such-family", 1); err == nil {
		t.Error("an unknown family made a job")
	}
}

// made is a job of a family, made once for all tests that only look at it.
var made = func() func(family string, seed uint64) Job {
	type key struct {
		family string
		seed   uint64
	}
	jobs := map[key]Job{}
	return func(family string, seed uint64) Job {
		k := key{family, seed}
		if _, known := jobs[k]; !known {
			jobs[k], _ = Make(family, seed)
		}
		return jobs[k]
	}
}()

// Every reading lies over its line but for what the truth says of it.
func TestReadingsLieWhereTruthSays(t *testing.T) {
	for _, f := range Families() {
		for seed := range uint64(3) {
			j := made(f.Name, seed)
			n, marks := 0, 0
			for _, tr := range j.Traces {
				l := j.Lines[tr.Line]
				for _, rd := range tr.Readings {
					n++
					off := l.Path.At(rd.Truth.StationM).Dist(rd.Pos)
					allowed := 5*rd.Truth.SigmaM + 5*rd.Truth.RoundM + 5*rd.Truth.PinpointM + math.Abs(rd.Truth.PeakShiftM) + math.Abs(rd.Truth.BesideM) + 0.05
					if !rd.Truth.Blunder && off > allowed*1.5 {
						t.Errorf("%s/%d %s: %.2f m from its station, allowed %.2f", f.Name, seed, rd.Point, off, allowed*1.5)
					}
					if math.Abs(rd.Truth.MarkOffsetM) < math.Max(0.15, 3*rd.Truth.PinpointM) {
						marks++
					}
				}
			}
			if n < 5 {
				t.Errorf("%s/%d: %d readings", f.Name, seed, n)
			}
			if !f.CarriesBleed && marks < n*98/100 {
				t.Errorf("%s/%d: only %d of %d marks within three pinpointing errors of the line", f.Name, seed, marks, n)
			}
		}
	}
}

// Families that carry bleed-over couple something; the others do not.
func TestCouplingsOnlyWhereSaid(t *testing.T) {
	for _, f := range Families() {
		displaced := 0
		for seed := range uint64(study.Of(3, 6)) {
			j := made(f.Name, seed)
			if (len(j.Couplings) > 0) != f.CarriesBleed {
				t.Errorf("%s/%d: %d couplings", f.Name, seed, len(j.Couplings))
			}
			for _, rd := range j.Traces[0].Readings {
				if rd.Truth.Displaced() {
					displaced++
				}
			}
		}
		if f.CarriesBleed && f.Name != "bleed-phase" && displaced == 0 || !f.CarriesBleed && displaced > 0 {
			t.Errorf("%s: %d displaced readings", f.Name, displaced)
		}
	}
}
