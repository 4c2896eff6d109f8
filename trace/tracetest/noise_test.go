package tracetest

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// A first-order Gauss-Markov process has the autocorrelation exp(-t/τ)
// (A. Gelb, ed., 1974, Applied Optimal Estimation, section 3.8); white noise
// beside it lowers all but the first value by the common share.
func TestPositionErrorHasItsSpreadAndMemory(t *testing.T) {
	const n, step, sigma = 40000, 10.0, 0.3
	p := positioning{noise: Noise{TauS: 60, CommonShare: 0.7, Optimism: 1}, r: stream("test", 1, "positioning")}
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		e, _ := p.errorAt(float64(i)*step, sigma)
		x[i], y[i] = e.X, e.Y
	}
	near(t, "sigma x", stat.StdDev(x, nil), sigma, 0.01)
	near(t, "sigma y", stat.StdDev(y, nil), sigma, 0.01)
	near(t, "correlation of the axes", stat.Correlation(x, y, nil), 0, 0.04)
	for _, lag := range []int{1, 3, 6, 12} {
		near(t, "autocorrelation", stat.Correlation(x[:n-lag], x[lag:], nil), 0.7*math.Exp(-float64(lag)*step/60), 0.03)
	}
}

// The error of a two-antenna depth grows as (d+s)/s times the error of the
// ratio of the two signals: 3.5 times at 1 m and 8.5 times at 3 m for s = 0.4
// (first order, from d = s·Bt/(Bb − Bt)).
func TestDepthNoiseGrowsWithDepth(t *testing.T) {
	for _, c := range []struct{ depthM, factor float64 }{{0.5, 2.25}, {1, 3.5}, {2, 6}, {3, 8.5}} {
		rc := ordinary(stream("test", 3, "recipe"))
		rc.antennaRel, rc.depthRel, rc.r = 0.005, 0, stream("test", 4, "walk")
		w := walk{recipe: rc, job: &Job{AntennaGapM: 0.4}, gain: 1, pos: positioning{noise: rc.noise, r: rc.r}}
		see := scene{wires: []wire{long(0, c.depthM, 1)}}.look(north, 0, 0, 0, 0.4, 1)
		d := make([]float64, 4000)
		for i := range d {
			d[i] = w.shown(stop{fix: 4, sigmaM: 0.01}, see).DepthM
		}
		near(t, "relative noise", stat.StdDev(d, nil)/c.depthM, c.factor*0.005*math.Sqrt2, 0.0012*c.factor)
	}
}

// The share of leaping positions and their size are as asked for: 1 to 20 m.
func TestFaultsComeAsOftenAsAsked(t *testing.T) {
	rc := ordinary(stream("test", 5, "recipe"))
	rc.blunders, rc.spikes, rc.r = 0.15, 0.08, stream("test", 6, "faults")
	w := walk{recipe: rc}
	rds := make([]Reading, 20000)
	for i := range rds {
		rds[i].DepthM, rds[i].RaiseM = 1, math.NaN()
	}
	w.spoil(rds)
	leaps, spikes := 0, 0
	for _, rd := range rds {
		if rd.Truth.Blunder {
			leaps++
			if l := rd.Truth.LeapM.Norm(); l < 1 || l > 20 || rd.Pos != rd.Truth.LeapM {
				t.Fatalf("a leap of %.2f m to %v", l, rd.Pos)
			}
		}
		if rd.Truth.DepthSpike {
			spikes++
			if rd.DepthM > 0.6 && rd.DepthM < 1.6 {
				t.Fatalf("a spike of %.2f", rd.DepthM)
			}
		}
	}
	near(t, "share of leaps", float64(leaps)/20000, 0.15, 0.02)
	near(t, "share of spikes", float64(spikes)/20000, 0.08, 0.01)
}
