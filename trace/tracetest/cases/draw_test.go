package cases_test

import (
	"bytes"
	"flag"
	"slices"
	"strings"
	"testing"

	"loamline.example/trace/tracetest/cases"
)

var (
	draws  = flag.Int("draws", firstDraws, "how many cases are drawn at random")
	plains = flag.Int("plains", 50, "how many plain locates are drawn at random")
	seed   = flag.Uint64("seed", 1, "seed of the first of them")
)

// silentDraws is how many of the firstDraws draws from seed 1 are wrong and
// silent today. It may only shrink, to none; then every draw is asserted.
const (
	firstDraws  = 20
	silentDraws = 1
	// Of more draws so many may be: 6 of 400 were when this was written (measured here by
	// go test -run 'TestDraws$' -draws 400 -v). It may only fall.
	mostSilent = 0.015
)

// byChance lets a band be missed by its own half-width again: of thousands of
// honest bands of 95 % that many miss, and where noise is shared whole lines do.
var byChance = cases.Options{BandFactor: 2}

// TestDraws maps cases drawn at random, of which none may be wrong and silent.
// -draws takes thousands. The seed of each that is silent is printed.
func TestDraws(t *testing.T) {
	var all, silent []judged
	for i := range *draws {
		c := cases.Draw(*seed + uint64(i))
		j := judgeBy(t, c, byChance)
		if all = append(all, j); j.Verdict == cases.Silent {
			silent = append(silent, j)
		}
	}
	slices.SortStableFunc(all, func(a, b judged) int { return strings.Compare(a.Mechanism(), b.Mechanism()) })
	t.Log("\n" + printed(all))
	for _, j := range silent {
		t.Logf("silent: %s: %s", j.Shows, strings.Join(j.Why, "; "))
	}
	if *draws == firstDraws && *seed == 1 {
		if len(silent) > silentDraws {
			t.Errorf("%d of %d drawn cases are wrong and silent; %d were", len(silent), *draws, silentDraws)
		}
	} else if most := silentDraws + mostSilent*float64(*draws); float64(len(silent)) > most {
		t.Errorf("%d of %d drawn cases are wrong and silent, where %.0f may be", len(silent), *draws, most)
	}
}

// TestPlainDraws asks that plain locates stay plain: at most 2 % of them get an
// item to check before digging, and none is wrong and silent.
func TestPlainDraws(t *testing.T) {
	cried, silent := 0, 0
	for i := range *plains {
		c := cases.DrawPlain(*seed + uint64(i))
		j := judgeBy(t, c, byChance)
		if len(j.Items) > 0 {
			cried++
			t.Logf("cries: %s: %q", c.Shows, j.Items)
		}
		if j.Verdict == cases.Silent {
			silent++
			t.Logf("silent: %s: %s", c.Shows, strings.Join(j.Why, "; "))
		}
	}
	t.Logf("of %d plain locates %d get an item, %d are wrong and silent", *plains, cried, silent)
	// One is let through where 2 % of so few is less.
	if allowed := max(1, *plains*2/100); cried > allowed {
		t.Errorf("%d of %d plain locates get an item, %d may", cried, *plains, allowed)
	}
	if allowed := max(1, *plains*2/100); silent > allowed {
		t.Errorf("%d of %d plain locates are wrong and silent", silent, *plains)
	}
}

// TestTheSameTwice: a case is the same each time.
func TestTheSameTwice(t *testing.T) {
	a, b := cases.All(), cases.All()
	names := map[string]bool{}
	for i := range a {
		if !bytes.Equal(a[i].Table, b[i].Table) || !bytes.Equal(a[i].Job, b[i].Job) {
			t.Errorf("%s differs from itself", a[i].Name)
		}
		if names[a[i].Name] {
			t.Errorf("two cases are called %s", a[i].Name)
		}
		names[a[i].Name] = true
	}
	if x, y := cases.Draw(7), cases.Draw(7); !bytes.Equal(x.Table, y.Table) {
		t.Error("a draw differs from itself")
	}
}
