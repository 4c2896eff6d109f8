package bleed

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// evidence is what speaks for coupling.
func (c *columns) evidence(f finding, s Stretch) []trace.Remark {
	return present(c.nullOffset(f), c.depthAndCurrent(f), f.current(), c.excluded(f), c.againstDirection(f), c.favoured(f), s.shiftUnknown())
}

// present leaves out what is nil.
func present(rs ...trace.Remark) []trace.Remark {
	return slices.DeleteFunc(rs, func(r trace.Remark) bool { return r == nil })
}

func (c *columns) nullOffset(f finding) trace.Remark {
	var sum, w float64
	n := 0
	for k := f.from; k <= f.to; k++ {
		if c.varN[k] < nothing {
			sum, w, n = sum+c.null[k]/c.varN[k], w+1/c.varN[k], n+1
		}
	}
	if n == 0 {
		return nil
	}
	mean, band := sum/w, 1.96*math.Sqrt(1/w+receiver.NullBiasM*receiver.NullBiasM)
	times := c.nullTimes()
	return remark.NullOffset{OffsetM: times * math.Abs(mean), BandM: times * band, Side: sideOf(mean), N: n}
}

// aroundM is how far before and after a stretch it is compared with. Judgement: over
// more, a line's own depth changes.
const aroundM = 25

// sigmas90 are to each side of a normal error's mean in its 90 % band: derived
// from its distribution.
const sigmas90 = 1.645

// depthAndCurrent compares the stretch with what lies within aroundM before and
// after it.
func (c *columns) depthAndCurrent(f finding) trace.Remark {
	d, okD := c.change(f, c.lnD, c.varD, nil)
	i, okI := c.change(f, c.lnD, c.varD, c.lnS)
	if !okD {
		return nil
	}
	if !okI {
		i = trace.Unknown
	}
	return remark.DepthAndCurrent{LnDepth: d, LnCurrent: i}
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
		case s > c.rd[f.from].StationM-aroundM && s < c.rd[f.to].StationM+aroundM:
			out, nOut = out+x, nOut+1
		}
	}
	if nIn < 2 || nOut < 2 {
		return 0, false
	}
	return in/nIn - out/nOut, true
}

func (f finding) current() trace.Remark {
	sd := math.Sqrt(f.cov[pShare][pShare])
	lo, hi := f.p[pShare]-sigmas90*sd, f.p[pShare]+sigmas90*sd
	share := remark.Share{Times: f.p[pShare], Least: lo, Most: hi}
	if f.c.e.at != nil {
		return remark.CurrentIn{Share: share, Neighbor: f.c.e.name, AsideM: math.Abs(f.asideM), Side: sideOf(f.asideM)}
	}
	var side trace.Side // either
	if f.sideKnown() {
		side = sideOf(f.asideM)
	}
	if f.name != Unknown {
		return remark.CurrentWhere{Share: share, Neighbor: f.name, AsideM: math.Abs(f.fittedAsideM), Side: side}
	}
	r := remark.CurrentUnmapped{Share: share, AsideM: math.Abs(f.asideM), Side: side}
	if f.nearName != "" {
		r.Nearby, r.NearbyAsideM, r.NearbySide = f.nearName, math.Abs(f.nearAsideM), sideOf(f.nearAsideM)
	}
	return r
}

// excluded is what else could not have done it.
func (c *columns) excluded(f finding) trace.Remark {
	if f.n >= 2 && f.ds >= 2 {
		return remark.TeeMovesNoNull
	}
	if f.ds >= 2 && c.hasS && !c.hasN {
		return remark.DepthKeepsCurrent
	}
	return nil
}

func (c *columns) againstDirection(f finding) trace.Remark {
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
		return nil
	}
	return remark.AgainstDirection{Against: against, Of: against + with}
}

// favoured is what of the hookup or the frequency favours bleed-over.
func (c *columns) favoured(f finding) trace.Remark {
	r := c.rd[(f.from+f.to)/2]
	switch {
	case r.Hookup == trace.HookupInduction || r.Hookup == trace.HookupPassive:
		return remark.HookupFavours{Hookup: r.Hookup}
	case r.FreqHz >= receiver.HighFreqHz:
		return remark.FrequencyFavours{FreqHz: r.FreqHz}
	}
	return nil
}

func (s Stretch) shiftUnknown() trace.Remark {
	if s.Side != "" {
		return nil // the shift and its side are the stretch's own figures
	}
	return remark.ShiftUnknown{WidenM: max(s.WidenLeftM, s.WidenRightM)}
}
