package bleed_test

import (
	"bytes"
	"cmp"
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/fit"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/otherworld"
	"loamline.example/trace/tracetest/study"
)

// besideKnown are the families of both worlds with a drawn neighbour, coupled and quiet ones.
var besideKnown = []struct {
	make           func(family string, seed uint64) (tracetest.Job, error)
	coupled, quiet []string
}{
	{tracetest.Make, []string{"bleed-same", "bleed-return", "bleed-bonded", "bleed-visiting", "bleed-loose", "bleed-elbow", "bleed-tee", "bleed-shallow"},
		[]string{"near-clean", "near-clean-ramps", "near-clean-tee", "near-clean-elbow", "near-clean-loose", "shared-trench"}},
	{otherworld.Make, []string{"coupled-known", "coupled-converging", "coupled-deep", "bonded", "parallel-trench"},
		[]string{"near-quiet", "near-converging", "trench-quiet"}},
}

// columnSets are what is left out of the readings: the signals, the null, both.
var columnSets = []struct{ signals, null bool }{{true, true}, {false, true}, {true, false}, {false, false}}

// walked is a trace of a job as the fit takes it, with some columns.
func walked(j tracetest.Job, t tracetest.Trace, signals, null bool) []trace.Reading {
	var out []trace.Reading
	for _, s := range t.Readings {
		if s.Exposed || s.RaiseM > 0 {
			continue
		}
		r := trace.NewReading()
		r.Pos, r.Fix, r.HDOP, r.HAccM, r.DepthM, r.FreqHz, r.Hookup = s.Pos, trace.Fix(s.Fix), s.HDOP, s.HAccM, s.DepthM, s.FreqHz, trace.Hookup(s.Hookup)
		if signals {
			r.CurrentMA, r.SignalLow, r.SignalHigh = s.CurrentMA, s.SignalLow, s.SignalHigh
		}
		if null {
			r.NullOffsetM = s.NullOffsetM
		}
		out = append(out, r)
	}
	return out
}

// traced is a trace as the detector takes it; false where the fit breaks it up.
func traced(name string, rs []trace.Reading) (line bleed.Line, ok bool) {
	res, err := fit.Line(context.Background(), rs, fit.Options{})
	if err != nil || len(res.Parts) != 1 {
		return line, false
	}
	line.Name = name
	for _, v := range res.Parts[0].Vertices {
		line.Points, line.DepthM, line.SigmaM = append(line.Points, v.Pos), append(line.DepthM, v.DepthM), append(line.SigmaM, v.Horizontal95M/1.96)
	}
	for i, v := range res.Verdicts {
		if v.Fate == fit.Used || v.Fate == fit.DepthSpike {
			rs[i].StationM, rs[i].Status = v.StationM, trace.StatusUsed
			if v.Fate == fit.DepthSpike {
				rs[i].DepthM = math.NaN()
			}
			line.Readings = append(line.Readings, rs[i])
		}
	}
	return line, true
}

// recorded is a line as a record has it, bodily off.
func recorded(l tracetest.Line, r *rand.Rand, sd float64) bleed.Path {
	shift := geo.XY{X: sd * r.NormFloat64(), Y: sd * r.NormFloat64()}
	p := bleed.Path{Name: l.Name, Reference: true}
	for _, at := range l.Path.Points {
		p.Points, p.DepthM, p.SigmaM = append(p.Points, at.Add(shift)), append(p.DepthM, math.NaN()), append(p.SigmaM, trace.RecordSigmaM)
	}
	return p
}

// account is what a detector's window says, and whether at least half of it is coupled.
type account struct {
	bleed.Account
	coupled bool
}

// accountsOf are those of a job's first trace beside the lines on record and the other traces.
func accountsOf(j tracetest.Job, signals, null bool) (out []account) {
	line, ok := traced("A", walked(j, j.Traces[0], signals, null))
	if !ok {
		return nil
	}
	line.AntennaGapM, line.Exclude = j.AntennaGapM, []int{0}
	paths := []bleed.Path{line.Path}
	r := rand.New(rand.NewPCG(j.Seed, 7))
	main := j.Traces[0].Line
	for k, l := range j.Lines {
		if k != main && l.Known {
			paths = append(paths, recorded(l, r, cmp.Or(j.RecordErrM, 0.1)))
		}
	}
	for _, t := range j.Traces[1:] {
		if t.Line == main || j.Lines[t.Line].Known {
			continue
		}
		if other, ok := traced(j.Lines[t.Line].Name, walked(j, t, signals, null)); ok {
			paths = append(paths, other.Path)
		}
	}
	path, buried := geo.NewPolyline(line.Points), j.Lines[main]
	for _, a := range bleed.Accounts(line, bleed.NewIndex(paths)) {
		n, on := 0, 0
		for s := a.FromM; s <= a.ToM; s += 0.5 {
			at := buried.Path.Nearest(path.At(s)).StationM
			n++
			if slices.ContainsFunc(j.Couplings, func(c tracetest.Coupling) bool {
				return c.Line == buried.Name && at > c.FromM-3 && at < c.ToM+3
			}) {
				on++
			}
		}
		out = append(out, account{a, 2*on >= n})
	}
	return out
}

var updateAccounts = flag.Bool("update", false, "make testdata/accounts.csv again")

// accountSeeds of each family, from firstAccountSeed on, are in the table, and lookedAt of them
// are made again when it is held against the detector.
const firstAccountSeed, accountSeeds, lookedAt = 60000, 48, 4

const accountsFile = "testdata/accounts.csv"

// writeAccounts writes a row for each account of some seeds of every family.
func writeAccounts(t *testing.T, w io.Writer, seeds uint64) {
	fmt.Fprintln(w, "family,seed,line,signals,null,log_odds,coupled")
	for _, world := range besideKnown {
		for k, families := range [][]string{world.coupled, world.quiet} {
			for _, f := range families {
				for seed := range seeds {
					j, err := world.make(f, firstAccountSeed+seed)
					if err != nil {
						t.Fatal(err)
					}
					for _, set := range columnSets {
						for _, a := range accountsOf(j, set.signals, set.null) {
							fmt.Fprintf(w, "%s,%d,%s,%v,%v,%.2f,%v\n", f, j.Seed, []string{"coupled", "quiet"}[k], set.signals, set.null, a.LogOdds, a.coupled)
						}
					}
				}
			}
		}
	}
}

// The table of accounts is what the detector says today: a minute or two, and some ten with
// -update, which makes it again.
func TestAccountsAreOfToday(t *testing.T) {
	if *updateAccounts {
		var b bytes.Buffer
		writeAccounts(t, &b, accountSeeds)
		if err := os.WriteFile(accountsFile, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	study.Only(t)
	var b bytes.Buffer
	writeAccounts(t, &b, lookedAt)
	file, err := os.ReadFile(accountsFile)
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for row := range strings.Lines(string(file)) {
		seed, err := strconv.Atoi(strings.Split(row, ",")[1])
		if err != nil || seed < firstAccountSeed+lookedAt { // the header too
			want = append(want, row)
		}
	}
	if b.String() != strings.Join(want, "") {
		t.Errorf("%s is not what the detector says: make it again with -update, and see what TestCalibrationIsOfTheWorlds says", accountsFile)
	}
}
