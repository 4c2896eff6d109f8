package bleed

import (
	"fmt"
	"math"

	"loamline/geo"
	"loamline/trace"
)

// evidence says in words and figures what speaks for coupling.
func (c *columns) evidence(f finding, s Stretch, units geo.Units) []string {
	var out []string
	add := func(w string) {
		if w != "" {
			out = append(out, w)
		}
	}
	add(c.nullWords(f, units))
	add(c.depthCurrentWords(f))
	add(f.fitWords(units))
	add(c.otherWords(f))
	add(c.phaseWords(f))
	add(c.setupWords(f))
	add(s.shiftWords(units))
	return out
}

func (c *columns) nullWords(f finding, units geo.Units) string {
	var sum, w float64
	n := 0
	for k := f.from; k <= f.to; k++ {
		if c.varN[k] < nothing {
			sum, w, n = sum+c.null[k]/c.varN[k], w+1/c.varN[k], n+1
		}
	}
	if n == 0 {
		return ""
	}
	mean, band := sum/w, 1.96*math.Sqrt(1/w+nullBiasM*nullBiasM)
	return fmt.Sprintf("Null lies %s %s of peak over %s; one line alone gives 0 ± %s.",
		units.Short(math.Abs(mean)), sideOf(mean), readings(n), units.Short(band))
}

func readings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}

// depthCurrentWords compares the stretch with what lies within 25 m before and
// after it.
func (c *columns) depthCurrentWords(f finding) string {
	d, okD := c.change(f, c.lnD, c.varD, nil)
	i, okI := c.change(f, c.lnD, c.varD, c.lnS)
	switch {
	case okD && okI:
		return fmt.Sprintf("Depth reads %s than before and after, current %s.", moreOrLess(d), moreOrLess(i))
	case okD:
		return fmt.Sprintf("Depth reads %s than before and after.", moreOrLess(d))
	}
	return ""
}

func moreOrLess(change float64) string {
	p := 100 * math.Abs(math.Expm1(change))
	if change < 0 {
		return fmt.Sprintf("%.0f %% less", p)
	}
	return fmt.Sprintf("%.0f %% more", p)
}

// change returns the mean of v (plus plus, where given) in the stretch minus
// that of its surroundings.
func (c *columns) change(f finding, v, variance, plus []float64) (float64, bool) {
	var in, out, nIn, nOut float64
	for k := range c.rd {
		if variance[k] >= nothing || plus != nil && c.varS[k] >= nothing {
			continue
		}
		x := v[k]
		if plus != nil {
			x += plus[k]
		}
		s := c.rd[k].StationM
		switch {
		case k >= f.from && k <= f.to:
			in, nIn = in+x, nIn+1
		case s > c.rd[f.from].StationM-25 && s < c.rd[f.to].StationM+25:
			out, nOut = out+x, nOut+1
		}
	}
	if nIn < 2 || nOut < 2 {
		return 0, false
	}
	return in/nIn - out/nOut, true
}

func (f finding) fitWords(units geo.Units) string {
	sd := math.Sqrt(f.cov[pShare][pShare])
	lo, hi := f.p[pShare]-1.645*sd, f.p[pShare]+1.645*sd
	share := fmt.Sprintf("%+.1f (90 %%: %+.1f to %+.1f) times the line's own", f.p[pShare], lo, hi)
	if f.c.e.at == nil && f.name != Unknown {
		return fmt.Sprintf("Fits a current of %s in a line %s, roughly %s away, where %s lies.",
			share, onSide(f), units.Short(math.Abs(f.fittedAsideM)), quoted(f.name))
	}
	if f.c.e.at == nil {
		first := "No known line near; fits"
		if f.nearName != "" {
			first = fmt.Sprintf("%s, %s to the %s, does not explain it; fits", quoted(f.nearName), units.Short(math.Abs(f.nearAsideM)), sideOf(f.nearAsideM))
		}
		return fmt.Sprintf("%s a current of %s in a line %s, roughly %s away.",
			first, share, onSide(f), units.Short(math.Abs(f.asideM)))
	}
	return fmt.Sprintf("Fits a current of %s in %s, %s to the %s.",
		share, quoted(f.c.e.name), units.Short(math.Abs(f.asideM)), sideOf(f.asideM))
}

func onSide(f finding) string {
	if !f.sideTold() {
		return "on either side"
	}
	return "on the " + string(sideOf(f.asideM))
}

func (c *columns) otherWords(f finding) string {
	if f.n >= 2 && f.ds >= 2 {
		return "A tee or a change of depth would not move the null."
	}
	if f.ds >= 2 && c.hasS && !c.hasN {
		return "A change of depth alone would leave the current as it was."
	}
	return ""
}

func (c *columns) phaseWords(f finding) string {
	against, with := 0, 0
	for k := f.from; k <= f.to; k++ {
		switch c.rd[k].Phase {
		case -1:
			against++
		case 1:
			with++
		}
	}
	if against == 0 {
		return ""
	}
	return fmt.Sprintf("Current reads against the expected direction at %d of %s.", against, readings(against+with))
}

func (c *columns) setupWords(f finding) string {
	r := c.rd[(f.from+f.to)/2]
	switch {
	case r.Hookup == trace.HookupInduction || r.Hookup == trace.HookupPassive:
		return fmt.Sprintf("The hookup (%s) favours bleed-over.", r.Hookup)
	case r.FreqHz >= 30000:
		return fmt.Sprintf("The frequency (%.0f kHz) favours bleed-over.", r.FreqHz/1000)
	}
	return ""
}

func (s Stretch) shiftWords(units geo.Units) string {
	if s.Side != "" {
		return "" // the shift and its side are the stretch's own figures
	}
	return fmt.Sprintf("Where the line lies from the mark cannot be told; the caution zone is wider by up to %s.",
		units.Short(max(s.WidenLeftM, s.WidenRightM)))
}
