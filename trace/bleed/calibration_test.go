package bleed_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"loamline.example/trace/bleed"
)

// told is an account of the table: the log odds, whether there was a coupling, and its weight.
type told struct {
	odds, weight float64
	coupled      bool
}

// decides tells whether a grade can hang on the calibration: every curve tried below has what
// lies beyond for no sign, or for all but sure.
func decides(odds float64) bool { return odds > -8 && odds < 5 }

// accounts are those of the table by which it is decided, weighed as if as many lines were
// coupled as are not.
func accounts(t *testing.T) (out []told) {
	file, err := os.Open(accountsFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	coupledLines, quietLines := 0, 0 // families of as many lines each
	for _, w := range besideKnown {
		coupledLines, quietLines = coupledLines+len(w.coupled), quietLines+len(w.quiet)
	}
	for _, r := range rows[1:] {
		odds, err := strconv.ParseFloat(r[5], 64)
		if err != nil {
			t.Fatal(err)
		}
		a := told{odds, 1 / float64(coupledLines), r[6] == "true"}
		if r[2] == "quiet" {
			a.weight = 1 / float64(quietLines)
		}
		if decides(odds) {
			out = append(out, a)
		}
	}
	return out
}

// surprise is the mean logarithmic score (Good 1952, J. Royal Stat. Soc. B 14:107) of a
// probability: the less, the better, and least in the mean for the one that is true.
func surprise(all []told, p func(odds float64) float64) float64 {
	sum, weight := 0.0, 0.0
	for _, a := range all {
		q := p(a.odds)
		if !a.coupled {
			q = 1 - q
		}
		sum, weight = sum-a.weight*math.Log(q), weight+a.weight
	}
	return sum / weight
}

func logistic(level, slope float64) func(float64) float64 {
	return func(odds float64) float64 { return 1 / (1 + math.Exp(-level-slope*odds)) }
}

// bestLogistic is the curve of that kind that surprises least, by Newton's method.
func bestLogistic(all []told) (level, slope float64) {
	slope = 0.5
	for range 50 {
		var g, h [3]float64 // of level, slope; of both, level first
		for _, a := range all {
			p := logistic(level, slope)(a.odds)
			e, v := a.weight*p, a.weight*p*(1-p)
			if a.coupled {
				e -= a.weight
			}
			g[0], g[1] = g[0]+e, g[1]+e*a.odds
			h[0], h[1], h[2] = h[0]+v, h[1]+v*a.odds, h[2]+v*a.odds*a.odds
		}
		det := h[0]*h[2] - h[1]*h[1]
		level, slope = level-(h[2]*g[0]-h[1]*g[1])/det, slope-(h[0]*g[1]-h[1]*g[0])/det
	}
	return level, slope
}

// The probability of coupling that grades go by is that of the simulated worlds: it surprises
// far less than the odds of the models as they stand, and little more than any curve of its kind
// would. A level a third higher or a slope a third lower is worse; a level a third lower would be
// better, by 0.046.
func TestCalibrationIsOfTheWorlds(t *testing.T) {
	all := accounts(t)
	level, slope := bestLogistic(all)
	ours, flat, best := surprise(all, bleed.Calibrated), surprise(all, logistic(0, 1)), surprise(all, logistic(level, slope))
	t.Logf("%d accounts: surprise %.4f, of the models' odds %.4f, at best %.4f (level %.2f, slope %.2f)", len(all), ours, flat, best, level, slope)
	if len(all) < 500 {
		t.Fatalf("%d accounts", len(all))
	}
	if ours > flat-0.3 {
		t.Errorf("the probability surprises by %.3f, the models' odds as they stand by %.3f", ours, flat)
	}
	if ours > best+0.06 {
		t.Errorf("the probability surprises by %.3f, the best curve by %.3f", ours, best)
	}
	for _, bin := range [][2]float64{{-8, -4.4}, {-4.4, -1.4}, {-1.4, 1.4}, {1.4, 5}} {
		said, held, n := 0.0, 0.0, 0.0
		for _, a := range all {
			if a.odds >= bin[0] && a.odds < bin[1] {
				said, n = said+a.weight*bleed.Calibrated(a.odds), n+a.weight
				if a.coupled {
					held += a.weight
				}
			}
		}
		t.Logf("log odds %.1f to %.1f: said %.2f, held %.2f", bin[0], bin[1], said/n, held/n)
	}
}
