package otherworld

import (
	"bytes"
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/tracetest"
)

func job(t *testing.T, family string, seed uint64) tracetest.Job {
	t.Helper()
	j, err := Make(family, seed)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// The same family and seed give the same bytes, another seed others.
func TestSameSeedSameBytes(t *testing.T) {
	all := func(f string, seed uint64) []byte {
		j := job(t, f, seed)
		files, err := j.Files(j.Layout)
		if err != nil {
			t.Fatal(f, err)
		}
		var b bytes.Buffer
		for _, f := range files {
			b.WriteString(f.Name)
			b.Write(f.Bytes)
		}
		return b.Bytes()
	}
	for _, f := range []string{"mixed", "jump-known", "parallel-trench", "induction-start", "rounded"} {
		if !bytes.Equal(all(f, 7), all(f, 7)) {
			t.Errorf("%s: two makings differ", f)
		}
		if bytes.Equal(all(f, 7), all(f, 8)) {
			t.Errorf("%s: seeds 7 and 8 are one", f)
		}
	}
	if _, err := Make("no-such", 1); err == nil {
		t.Error("an unknown family is made")
	}
}

// Readings lie where the truth says, but for the error of the positioning, whose
// size the truth tells; the readings on the main line are of it, and deeper
// ground truth is a path without steps longer than half a metre.
func TestReadingsLieWhereTheTruthSays(t *testing.T) {
	var sum, n float64
	for _, f := range Families() {
		for seed := uint64(1); seed <= 2; seed++ {
			j := job(t, f.Name, seed)
			if len(j.Traces) == 0 || len(j.Traces[0].Readings) < 5 {
				t.Fatalf("%s %d: hardly a reading", f.Name, seed)
			}
			for _, tr := range j.Traces {
				l := j.Lines[tr.Line]
				for _, rd := range tr.Readings {
					at := rd.Truth
					if at.StationM < l.FromM-1e-6 || at.StationM > l.ToM+1e-6 {
						t.Fatalf("%s %d: a reading at %.2f of %.2f to %.2f", f.Name, seed, at.StationM, l.FromM, l.ToM)
					}
					if math.Abs(l.DepthAt(at.StationM)-at.DepthM) > 1e-9 || at.DepthM > 3.6 {
						t.Fatalf("%s %d: depth %.3f against %.3f", f.Name, seed, at.DepthM, l.DepthAt(at.StationM))
					}
					side := across(l.Path, at.StationM, 0.75)
					mark := l.Path.At(at.StationM).Add(side.Scale(at.MarkOffsetM))
					off := rd.Pos.Sub(mark).Sub(at.LeapM)
					s := math.Hypot(at.SigmaM, at.RoundM)
					sum, n = sum+off.Dot(off)/2/(s*s), n+1
					if off.Norm() > 6.5*s {
						t.Errorf("%s %d: %.2f m from the mark at a sigma of %.2f", f.Name, seed, off.Norm(), s)
					}
				}
			}
			path := j.Lines[0].Path
			for i := 1; i < len(path.Points); i++ {
				if d := path.Station(i) - path.Station(i-1); d > 0.7 {
					t.Fatalf("%s %d: the true line has a chord of %.2f m", f.Name, seed, d)
				}
			}
		}
	}
	// Errors within a job hang together: some 200 jobs leave a tenth of doubt.
	if m := sum / n; m < 0.75 || m > 1.3 {
		t.Errorf("mean square error is %.2f of what the truth tells", m)
	}
}

// Each fault comes as often as its family asks.
func TestFaultsComeAsAsked(t *testing.T) {
	r := source("faults", 1, "test")
	var rds []tracetest.Reading
	for range 20000 {
		rds = append(rds, tracetest.Reading{RaiseM: math.NaN(), DepthM: 1})
	}
	f := faults{leaps: 0.05, spikes: 0.02, blanks: 0.1}
	f.spoil(r, rds)
	var leaps, spikes, blanks float64
	for _, rd := range rds {
		if rd.Truth.Blunder {
			leaps++
			if d := rd.Truth.LeapM.Norm(); d < 1 || d > 20 || rd.Pos.Dist(rd.Truth.LeapM) > 1e-12 {
				t.Fatalf("a leap of %.2f m", d)
			}
		}
		if rd.Truth.DepthSpike {
			spikes++
		}
		if math.IsNaN(rd.DepthM) {
			blanks++
		}
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"leaps", leaps, 0.05}, {"spikes", spikes, 0.02 * 0.9}, {"blanks", blanks, 0.1}} {
		if sd := math.Sqrt(20000 * c.want * (1 - c.want)); math.Abs(c.got-20000*c.want) > 4*sd {
			t.Errorf("%v %s, want %.0f ± %.0f", c.got, c.what, 20000*c.want, 2*sd)
		}
	}
	burst := append([]tracetest.Reading(nil), rds[:200]...)
	for i := range burst {
		burst[i].Truth = tracetest.ReadingTruth{}
	}
	faults{bursts: 1}.spoil(r, burst)
	first, last, n := -1, -1, 0
	for i, rd := range burst {
		if rd.Truth.Blunder {
			if first < 0 {
				first = i
			}
			last, n = i, n+1
		}
	}
	if n < 3 || n > 12 || last-first+1 != n {
		t.Errorf("a burst of %d readings from %d to %d", n, first, last)
	}
}

// The Gauss-Markov part keeps exp(−t/τ) of itself and every part its share of the
// variance.
func TestPositionErrors(t *testing.T) {
	p := positioning{fixes: []int{4}, dwellM: 10, sigmaM: map[int]float64{4: 0.02}}
	p.noise = tracetest.Noise{TauS: 100, CommonShare: 0.5, FixedShare: 0.2}
	var now, later, lag, mean float64
	const n = 4000
	for k := range n {
		e := drift{positioning: p, r: source("errors", uint64(k), "test")}
		a, _, _ := e.next(0, 0)
		b, _, _ := e.next(50, 1)
		now, later, lag, mean = now+a.X*a.X/n, later+b.X*b.X/n, lag+a.X*b.X/n, mean+a.X/n
	}
	v := 0.02 * 0.02
	near(t, "variance", now/v, 1, 0.1)
	near(t, "variance later", later/v, 1, 0.1)
	near(t, "lagged", lag/v, 0.2+0.5*math.Exp(-0.5), 0.08)
	near(t, "mean", mean/0.02, 0, 0.07)
}

// Shapes keep what they promise.
func TestShapes(t *testing.T) {
	for seed := uint64(1); seed <= 40; seed++ {
		r := source("shapes", seed, "test")
		ringed := ring(r, 0)
		l := geo.NewPolyline(ringed.points).Length()
		e := ringed.elements[0]
		if turn := l / e.value * 180 / math.Pi; turn < 269 || turn > 381 || e.value < 5 || e.value > 40 {
			t.Errorf("a ring of %.0f° and %.1f m", turn, e.value)
		}
		pin := geo.NewPolyline(hairpin(r, 60).points)
		if d := math.Abs(geo.NewPolyline(pin.Slice(0, 29)).Nearest(pin.At(pin.Length() - 3)).OffsetM); d < 0.59 || d > 2.01 {
			t.Errorf("a hairpin %.2f m apart", d)
		}
		out := spur(r, 60)
		if n := len(out.corners); n != 3 {
			t.Fatalf("a branch with %d corners", n)
		}
		tee, again := out.points[out.corners[0].from], out.points[out.corners[2].from]
		if tee.Dist(again) > 1e-9 {
			t.Errorf("back from the branch %.2f m beside the tee", tee.Dist(again))
		}
		side := sweeps(r, 80)
		for _, e := range side.elements {
			if e.kind == tracetest.Arc && (e.value < 0.5 || e.value > 5) {
				t.Errorf("a sweep of %.1f m radius", e.value)
			}
		}
	}
}

// Signal in a neighbour displaces marks and depths, and nothing but that does;
// a mark that has jumped lies nearer to the neighbour than to the line.
func TestDisplacedWhereCoupled(t *testing.T) {
	for _, f := range Families() {
		var displaced, jumped, all int
		seeds := uint64(2)
		if f.CarriesBleed {
			seeds = 6
		}
		for seed := uint64(1); seed <= seeds; seed++ {
			j := job(t, f.Name, seed)
			if f.CarriesBleed != (len(j.Couplings) > 0) {
				t.Fatalf("%s %d: %d couplings", f.Name, seed, len(j.Couplings))
			}
			l := j.Lines[0]
			for _, rd := range j.Traces[0].Readings {
				all++
				if rd.Truth.Displaced() {
					displaced++
				}
				if !rd.Truth.Jumped {
					continue
				}
				jumped++
				n, _ := j.LineNamed(rd.Truth.Neighbor)
				mark := l.Path.At(rd.Truth.StationM).Add(across(l.Path, rd.Truth.StationM, 0.75).Scale(rd.Truth.PeakShiftM))
				if n.Path.Nearest(mark).OffsetM > math.Abs(rd.Truth.PeakShiftM) {
					t.Errorf("%s %d: jumped, but nearer to the line", f.Name, seed)
				}
			}
		}
		if share := float64(displaced) / float64(all); f.CarriesBleed != (displaced > 0) || share > 0.9 {
			t.Errorf("%s: %.2f of readings displaced", f.Name, share)
		}
		if jumps := len(f.Name) > 4 && f.Name[:4] == "jump"; jumps != (jumped > 0) {
			t.Errorf("%s: %d readings on a neighbour", f.Name, jumped)
		}
		t.Logf("%-22s %4d readings, %4d displaced, %4d jumped", f.Name, all, displaced, jumped)
	}
}
