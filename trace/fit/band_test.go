package fit

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// Half-widths that hold 95 %: 1.959964 sigma of one normal error (any table of the
// normal distribution); of a half with one sigma and a half with two, 3.29915, where
// erfc(h/√2) + erfc(h/(2√2)) = 0.1 (by bisection with the C library's erfc).
func TestBandsHoldNinetyFivePerCent(t *testing.T) {
	for _, c := range []struct {
		weight, variance []float64
		want             float64
	}{
		{[]float64{1}, []float64{1}, 1.959964},
		{[]float64{1}, []float64{0.0004}, 0.0391993},
		{[]float64{0.5, 0.5}, []float64{1, 4}, 3.299147},
	} {
		included, top := make([]float64, len(c.weight)), 0.0
		for k, w := range c.weight {
			included[k], top = w*c.variance[k], math.Max(top, math.Sqrt(c.variance[k]))
		}
		close2(t, "half-width", twoSided(c.weight, included, top), c.want, 1e-5)
	}
}

// What a whole walk has in common is the mean of a Gauss-Markov process over it,
// of variance σ²·2τ/T·(1 - τ/T·(1 - exp(-T/τ))) (Gelb, Applied Optimal Estimation,
// 1974; from memory): 2/e of σ² where the walk takes as long as the process
// remembers. By 2 cm of which 60 % of the variance is common that is 1.96·0.0133 m;
// 0.44 of σ² again is an offset that never changes.
func TestCommonErrorOfAWalk(t *testing.T) {
	w := &walk{scaleM: 0.02}
	w.obs = make([]observation, 2)
	w.obs[1].clockS = 300
	b := &bander{w: w, noise: noisePosterior{models: []noiseModel{{factor: 1, share: 0.6, tauS: 300, weight: 1}}}}
	close2(t, "common", b.common(), 1.96*math.Sqrt(0.0004*(0.6*2/math.E+0.44)), 1e-9)
	w.obs[1].clockS = 0
	close2(t, "common at once", b.common(), 1.96*math.Sqrt(0.0004*(0.6+0.44)), 1e-9)
}

// However many readings a line is drawn from, their mean is no better than what
// they all share: the band of a long straight line of 2 cm positions is not less
// than 1.96 standard deviations of that.
func TestManyReadingsDoNotAverageAwayTheirOffset(t *testing.T) {
	r := run{straight: true, nodes: []geo.XY{{}, {X: 1000}}, normals: []geo.XY{{Y: -1}}}
	for i := range 1000 {
		r.part = append(r.part, &observation{sigmaM: 0.02, clockS: 600 * float64(i), p: geo.XY{X: float64(i)}, wt: 1})
	}
	w := &walk{scaleM: 0.02}
	b := newBander(w, &shape{runs: []run{r}}, noisePosterior{models: []noiseModel{{factor: 1.5, share: 0.5, tauS: 30, weight: 1}}})
	if got, least := b.at(0, geo.XY{X: 500}), 1.96*1.5*0.02*math.Sqrt(0.44); got < least || got > 1.1*least {
		t.Errorf("half-width %.4f m, of what all share %.4f", got, least)
	}
}

// However well its course is known, a line ends where its last reading was taken, to
// 1.96 standard deviations of that reading's own position: what is white, what is common
// and what never changes (0.44 more) taken together. Where a hole was dug it is known as
// well as that place, and where it meets another line there is nothing to know.
func TestEndsAreKnownNoBetterThanTheirReadings(t *testing.T) {
	w := &walk{scaleM: 0.5}
	for i := range 50 {
		w.obs = append(w.obs, observation{placed: placed{stationM: float64(i), fate: Used}, sigmaM: 0.5, clockS: 10 * float64(i)})
	}
	w.obs[49].exposed, w.obs[49].sigmaM = true, 0.02
	tr := &traced{w: w}
	b := newBander(w, nil, noisePosterior{models: []noiseModel{{factor: 1.5, share: 0.5, tauS: 30, weight: 1}}})
	st := []stretch{{from: 0, to: 20}, {from: 21, to: 49}}
	off := 1.96 * 1.5 * 0.5 * math.Sqrt(1.44)
	for _, meets := range []bool{false, true} {
		want := [][2]float64{{off, off}, {off, 1.96 * 0.02}}
		if st[1].branch.there = meets; meets {
			want[1][0] = 0
		}
		got := tr.endsAlong(b, st)
		for k := range want {
			close2(t, "start", got[k][0], want[k][0], 1e-3)
			close2(t, "end", got[k][1], want[k][1], 1e-3)
		}
	}
}

// The peak is found anew at each reading: by 5 cm of pinpointing at each of a hundred the
// middle of a straight line is known to 5 cm over the square root of a hundred.
func TestPinpointingIsInTheBand(t *testing.T) {
	r := run{straight: true, nodes: []geo.XY{{}, {X: 99}}, normals: []geo.XY{{Y: -1}}}
	for i := range 100 {
		r.part = append(r.part, &observation{sigmaM: 1e-6, clockS: 10 * float64(i), p: geo.XY{X: float64(i)}, wt: 1})
	}
	b := newBander(&walk{scaleM: 1e-6}, &shape{runs: []run{r}}, noisePosterior{models: []noiseModel{{factor: 1, tauS: 30, pinM: 0.05, weight: 1}}})
	close2(t, "half-width", b.at(0, geo.XY{X: 49.5}), 1.96*0.05/10, 1e-4)
}

// Between readings that stand far apart on a line full of bends a spline makes up the way,
// however exact they are: the band holds a wave of 8 cm that none of them shows.
func TestBandHoldsWhatSmoothingHides(t *testing.T) {
	const sigmaM, everyM, waveAtM = 0.001, 5.0, 27.5
	truth := func(x float64) geo.XY {
		return geo.XY{X: x, Y: 1.5*math.Sin(x/6) + 0.08*math.Exp(-sq((x-waveAtM)/0.8)/2)}
	}
	var part []sample
	var guide []geo.XY
	for i := range 14 {
		x := everyM * float64(i)
		part = append(part, &observation{placed: placed{stationM: x}, sigmaM: sigmaM, clockS: 10 * float64(i), p: truth(x), wt: 1 / sq(sigmaM)})
		guide = append(guide, truth(x))
	}
	r, ok := fitSmooth(part, guide, 0.5)
	if !ok {
		t.Fatal("no smooth run")
	}
	b := newBander(&walk{scaleM: sigmaM}, &shape{runs: []run{r}}, noisePosterior{models: []noiseModel{{factor: 1, tauS: 30, weight: 1}}})
	k, u := nearestLeg(r.nodes, truth(waveAtM))
	on := r.nodes[k].Lerp(r.nodes[k+1], u)
	off, between, there := truth(waveAtM).Dist(on), b.at(0, on), b.at(0, truth(waveAtM-everyM/2))
	if off < 0.05 || there > 5*sigmaM {
		t.Fatalf("the line is off by %.4f m between readings, and known to %.4f m at one: nothing is hidden", off, there)
	}
	if off > between {
		t.Errorf("the line is off by %.4f m between readings: half-width %.4f m", off, between)
	}
}

// What all readings of a half circle share moves them the same way, and across the line each
// takes its own part of it: of n places evenly on it, all of one weight, the sum is 2n/π times
// the shared vector at most (the mean of |sin| over half a turn), and not n times.
func TestSharedErrorTurnsWithTheLine(t *testing.T) {
	const n, sigmaM = 180, 0.02
	r := run{nodes: make([]geo.XY, n+1), foot: make([]foot, n)}
	wt := make([]float64, n)
	at := func(k float64) geo.XY {
		sin, cos := math.Sincos(math.Pi * k / n)
		return geo.XY{X: cos, Y: sin}.Scale(40)
	}
	for k := range r.nodes {
		r.nodes[k] = at(float64(k))
	}
	for i := range n {
		r.part = append(r.part, &observation{sigmaM: sigmaM, clockS: float64(i), p: at(float64(i) + 0.5)})
		r.foot[i], wt[i] = foot{int32(i), 0.5}, 1.0/n
	}
	r.setNormals()
	b := newBander(&walk{}, &shape{runs: []run{r}}, noisePosterior{})
	close2(t, "sigma of what all share", math.Sqrt(b.spreadOf(&b.sh.runs[0], wt).whole), sigmaM*2/math.Pi, 1e-5)
}

// What was measured in the open errs by its own figure, whatever positions are found to err by:
// of two such places, a half of each, a half of their variances' mean.
func TestExposedPlacesErrByTheirOwnFigure(t *testing.T) {
	const exposedM = 0.1
	r := run{straight: true, nodes: []geo.XY{{}, {X: 100}}, normals: []geo.XY{{Y: -1}}}
	for _, x := range []float64{0, 100} {
		o := &observation{sigmaM: exposedM, clockS: x, p: geo.XY{X: x}, wt: 1 / sq(exposedM)}
		o.exposed = true
		r.part = append(r.part, o)
	}
	b := newBander(&walk{scaleM: exposedM}, &shape{runs: []run{r}}, noisePosterior{})
	for _, factor := range []float64{1, 5} {
		m := noiseModel{factor: factor, share: 0.5, tauS: 30, pinM: 0.02 * factor}
		close2(t, "variance", b.variance(m, b.spreadOf(&b.sh.runs[0], []float64{0.5, 0.5})), sq(exposedM)/2, 1e-12)
	}
}
