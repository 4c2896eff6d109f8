package bleed

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// over is a reading over a line of one ampere on a scale of its own, with antennas
// 0.5 m apart: by Ampère's law the field falls as one over the distance.
func over(stationM, depthM float64) reading {
	return reading{Reading: trace.Reading{StationM: stationM, DepthM: depthM, CurrentMA: 1000, SignalLow: 100 / depthM, SignalHigh: 100 / (depthM + 0.5), Signal: math.NaN(), NullOffsetM: math.NaN(), HAccM: 0.02, Fix: 4}}
}

// A hump whose depths the display rounds to decimetres or leaves out is there in
// the antennas.
func TestAntennasFillInDepths(t *testing.T) {
	var rds []reading
	lies := func(s float64) float64 { return 0.8 + 0.006*s - 0.4*math.Exp(-(s-40)*(s-40)/8) }
	for s := 0.0; s <= 80; s += 2 {
		r := over(s, lies(s))
		r.DepthM = math.Round(10*r.DepthM) / 10
		if math.Abs(s-40) < 4 {
			r.DepthM = math.NaN()
		}
		rds = append(rds, r)
	}
	lnD, by := depthLogs(rds, 0.5, fullScale(rds))
	for k, r := range rds {
		if !by[k] {
			t.Errorf("station %.0f: the depth on steps of 0.1 m was preferred to the antennas'", r.StationM)
		}
		if want := math.Log(lies(r.StationM)); math.Abs(lnD[k]-lnD[0]-(want-math.Log(lies(0)))) > 1e-9 {
			t.Errorf("station %.0f: ln depth %.3f from the first, want %.3f", r.StationM, lnD[k]-lnD[0], want-math.Log(lies(0)))
		}
	}
}

// A signal at the display's end says nothing; current and depth stand in, on the
// scale of the signals that were read.
func TestSignalsAtFullScale(t *testing.T) {
	for _, one := range []bool{false, true} { // signal, of two antennas or one
		var rds []reading
		for s := 0.0; s <= 60; s += 2 {
			rds = append(rds, over(s, 1+0.01*s))
		}
		for k := range rds {
			r := &rds[k]
			if k < 8 {
				r.SignalLow = 95
			}
			if one {
				r.Signal, r.SignalLow, r.SignalHigh = r.SignalLow, math.NaN(), math.NaN()
			}
		}
		full := fullScale(rds)
		if full != 95 {
			t.Fatalf("one signal %t: full scale %.1f, want 95", one, full)
		}
		for k, got := range signalLogs(rds, full) {
			if want := math.Log(100 / rds[k].DepthM); math.Abs(got-want) > 1e-9 {
				t.Errorf("one signal %t, reading %d: ln signal %.4f, want %.4f", one, k, got, want)
			}
		}
		if f := fullScale(rds[8:]); !math.IsInf(f, 1) {
			t.Errorf("one signal %t: full scale %.1f where no two signals are the same", one, f)
		}
	}
}

// Of a display of decimetres and two antennas those stand whose depths err less: a step hides
// 0.1/√12 of 0.5 m, 6 %.
func TestStepsOfADisplayAgainstAntennas(t *testing.T) {
	for _, c := range []struct {
		noise float64
		stand bool
	}{{0.02, true}, {0.12, false}} {
		rng := rand.New(rand.NewPCG(3, 3))
		var rds []reading
		for i := range 60 {
			d := 0.5 + 0.08*math.Sin(float64(i)/6)
			read := d * (1 + c.noise*rng.NormFloat64())
			rds = append(rds, reading{Reading: trace.Reading{StationM: float64(i), DepthM: math.Round(10*d) / 10, SignalLow: 1 / read, SignalHigh: 1 / (read + 0.5)}})
		}
		if _, stand := depthLogs(rds, 0.5, math.Inf(1)); stand[0] != c.stand {
			t.Errorf("antennas that err by %.0f %%: they stand %v", 100*c.noise, stand[0])
		}
	}
}

// What a step hides of depths by antennas is known where their distance is not stated, too.
func TestStepsOfAntennasAtAnUnknownDistance(t *testing.T) {
	line := Line{AntennaGapM: math.NaN()}
	for s := 0.0; s <= 80; s += 2 {
		r := over(s, 1+0.002*s).Reading
		r.Pos = geo.XY{X: s}
		r.SignalLow, r.SignalHigh = math.Round(r.SignalLow), math.Round(r.SignalHigh)
		if int(s)%4 == 0 {
			r.DepthM = math.NaN()
		}
		line.Readings, line.Points = append(line.Readings, r), append(line.Points, r.Pos)
		line.DepthM, line.SigmaM = append(line.DepthM, 1), append(line.SigmaM, 0.02)
	}
	line.rd = inStationOrder(line.Readings)
	if by := newColumns(line).round.between(0, 0); !(by.dd > 0 && by.ss > 0 && by.ds < 0) {
		t.Errorf("variances %+v of a depth by antennas", by)
	}
}
