package fit

import (
	"math"
	"testing"

	"loamline.example/geo"
)

// Two exposed places hold a line of metre positions to a centimetre where they lie, and
// between and beyond them it is as sure as it is straight: a jog that such positions do not
// show may stand between. So the band grows from them on, and the faster the sooner what
// the positions have in common changes.
func TestExposedPlacesHoldALineWhereTheyLie(t *testing.T) {
	const sigmaM, exposedM, everyS = 1.0, 0.015, 10.0
	band := func(tauS float64, atM float64) float64 {
		r := run{straight: true, nodes: []geo.XY{{}, {X: 100}}, normals: []geo.XY{{Y: -1}}}
		for i := range 51 {
			r.part = append(r.part, &observation{sigmaM: sigmaM, clockS: everyS * float64(i), p: geo.XY{X: 2 * float64(i)}, wt: 1 / sq(sigmaM)})
		}
		for _, x := range []float64{40, 60} {
			o := &observation{sigmaM: exposedM, clockS: 1000, p: geo.XY{X: x}, wt: 1 / sq(exposedM)}
			o.exposed = true
			r.part = append(r.part, o)
		}
		b := newBander(&walk{scaleM: sigmaM}, &shape{runs: []run{r}}, noisePosterior{
			models: []noiseModel{{factor: 1, share: 0.9, tauS: tauS, weight: 1}},
			mean:   noiseModel{factor: 1, share: 0.9, tauS: tauS, weight: 1},
		})
		return b.at(0, geo.XY{X: atM})
	}
	for _, tauS := range []float64{75, 190, 500} {
		if h := band(tauS, 60); h > 1.96*2*exposedM {
			t.Errorf("common error of %g s: half-width %.3f m at an exposed place", tauS, h)
		}
		if near, far, farther := band(tauS, 63), band(tauS, 75), band(tauS, 95); !(near < far && far < farther) {
			t.Errorf("common error of %g s: half-widths %.3f, %.3f and %.3f m at 3, 15 and 35 m from an exposed place", tauS, near, far, farther)
		}
	}
	// By 35 m a corner stands between with a chance of a half, which leaves √½ of the 0.7 m
	// or so that readings of some legs apart are known to from each other, in both axes.
	if h := band(75, 95); h < 0.5*1.96*sigmaM || h > 1.96*math.Sqrt2*sigmaM {
		t.Errorf("half-width %.3f m at 35 m from an exposed place", h)
	}
	if slow, fast := band(500, 95), band(75, 95); !(slow < fast) {
		t.Errorf("half-width %.3f m where the common error lasts, %.3f m where it changes", slow, fast)
	}
}

// Where all positions are as good as an exposed one, it takes nothing from the band and adds
// nothing.
func TestExposedPlacesAmongGoodPositions(t *testing.T) {
	band := func(exposed bool) float64 {
		r := run{straight: true, nodes: []geo.XY{{}, {X: 100}}, normals: []geo.XY{{Y: -1}}}
		for i := range 51 {
			o := &observation{sigmaM: 0.015, clockS: 10 * float64(i), p: geo.XY{X: 2 * float64(i)}, wt: 1 / sq(0.015)}
			o.exposed = exposed && i == 25
			r.part = append(r.part, o)
		}
		m := noiseModel{factor: 1, share: 0.6, tauS: 190, weight: 1}
		return newBander(&walk{scaleM: 0.015}, &shape{runs: []run{r}}, noisePosterior{models: []noiseModel{m}, mean: m}).at(0, geo.XY{X: 90})
	}
	if with, without := band(true), band(false); with > 1.02*without {
		t.Errorf("half-width %.4f m with an exposed place, %.4f m without", with, without)
	}
}
