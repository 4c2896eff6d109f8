package bleed

import (
	"cmp"
	"math"
	"slices"
)

// amplitudeSD is the part by which a signature's amplitude may be off inside a
// coupled segment. Judgement.
const amplitudeSD = 0.2

// segmentFit is one coupled segment, readings [from, to] of the window.
type segmentFit struct {
	from, to int
	sig      int
	logRatio float64
}

// scanner weighs signatures over the segments of a survey; buffers are reused.
type scanner struct {
	*survey
	tt, tc, nt quadratic
	bt, nb     linear
}

// segmentSums are sums over a segment: precision and score of the signature and of
// the sharing current, and the part of null and marks in the signature.
type segmentSums struct {
	tt, tc, cc, bt, bc, ntt, nbt float64
	sharingSD                    float64
}

// logRatioAbove integrates amplitude and sharing out of the evidence; false
// where it cannot exceed floor, found out without a logarithm.
func (m segmentSums) logRatioAbove(floor float64) (float64, bool) {
	a, b := m.tt+m.ntt, m.bt+m.nbt
	g1, g2 := b-a, m.bc-m.tc
	v1, v2 := amplitudeSD*amplitudeSD, m.sharingSD*m.sharingSD
	// (Σ⁻¹+H) for Σ = diag(v1, v2).
	p11, p22, p12 := 1/v1+a, 1/v2+m.cc, m.tc
	det := p11*p22 - p12*p12
	l := b - a/2 + 0.5*(p22*g1*g1-2*p12*g1*g2+p11*g2*g2)/det
	if l < floor { // det·v1·v2 is never below one
		return l, false
	}
	return l - 0.5*math.Log(det*v1*v2), true
}

// fill sums one signature over all segments.
func (s *scanner) fill(g signature) {
	n := s.hi - s.lo
	s.tt.reset(n)
	s.tc.reset(n)
	s.nt.reset(n)
	s.bt.reset(n)
	s.nb.reset(n)
	for k := range n {
		if s.model.ds != nil {
			s.fillDepthSignal(g, k)
		}
		above, whole := s.nt.above(k)
		into := s.nt.below[k*n : (k+1)*n]
		clear(into)
		own, nb := 0.0, 0.0
		for _, x := range []struct {
			b *gaussian
			t []float64
		}{{s.null, g.n}, {s.pos, g.shift}} {
			if x.b == nil {
				continue
			}
			p, run, t := x.b.prec[k*n:(k+1)*n], 0.0, x.t[k]
			nb += t * x.b.py[k]
			for l, y := range x.t[:k] {
				run += t * p[l] * y
				into[l] += run
			}
			own += 2*run + t*t*p[k]
		}
		for l := range into[:k] {
			into[l] += above[l]
		}
		s.nt.whole[k], s.nb[k+1] = whole+own, s.nb[k]+nb
	}
}

func (s *scanner) fillDepthSignal(g signature, k int) {
	n := s.hi - s.lo
	b := s.model.ds
	d, e := b.prec[k*2*n:(k+1)*2*n], b.prec[(n+k)*2*n:(n+k+1)*2*n]
	dd, ds, sd, ss := d[:n], d[n:], e[:n], e[n:]
	gd, gs := g.d[k], g.s[k]
	s.bt[k+1] = s.bt[k] + gd*b.py[k] + gs*b.py[n+k]
	aboveT, wholeT := s.tt.above(k)
	aboveC, wholeC := s.tc.above(k)
	intoT, intoC := s.tt.below[k*n:(k+1)*n], s.tc.below[k*n:(k+1)*n]
	var tt, tc float64
	for l := range k {
		// W(k,D;l,·) and W(k,S;l,·) on the signature at l, and on a step of
		// the line's own current with both orders.
		wd, ws := dd[l]*g.d[l]+ds[l]*g.s[l], sd[l]*g.d[l]+ss[l]*g.s[l]
		tt += gd*wd + gs*ws
		tc += (ws + gd*ds[l] + gs*ss[l]) / 2
		intoT[l], intoC[l] = tt+aboveT[l], tc+aboveC[l]
	}
	intoT[k], intoC[k] = 0, 0
	s.tt.whole[k] = wholeT + 2*tt + gd*(dd[k]*gd+ds[k]*gs) + gs*(sd[k]*gd+ss[k]*gs)
	s.tc.whole[k] = wholeC + 2*tc + gd*ds[k] + gs*ss[k]
}

// sums are those of the signature that was filled in last.
func (s *scanner) sums(g signature, i, j int) segmentSums {
	m := segmentSums{sharingSD: g.sharingSD(), ntt: s.nt.of(i, j), nbt: s.nb.of(i, j)}
	if s.model.ds != nil {
		m.tt, m.tc, m.cc = s.tt.of(i, j), s.tc.of(i, j), s.onSS.of(i, j)
		m.bt, m.bc = s.bt.of(i, j), s.toS.of(i, j)
	}
	return m
}

// roughly gives the sums of a signature as if its mean over the segment
// stood at every reading of it.
func (s *scanner) roughly(g rough, i, j int) segmentSums {
	l := 1 / float64(j-i+1)
	m := segmentSums{sharingSD: g.sharingSD}
	if s.model.ds != nil {
		d, e := l*g.d.of(i, j), l*g.s.of(i, j)
		dd, ds, ss := s.onDD.of(i, j), s.onDS.of(i, j), s.onSS.of(i, j)
		m.tt, m.tc, m.cc = d*d*dd+2*d*e*ds+e*e*ss, d*ds+e*ss, ss
		m.bc = s.toS.of(i, j)
		m.bt = d*s.toD.of(i, j) + e*m.bc
	}
	for k, v := range [2]linear{g.n, g.shift} {
		if s.scores[k] != nil {
			x := l * v.of(i, j)
			m.ntt += x * x * s.across[k].of(i, j)
			m.nbt += x * s.scores[k].of(i, j)
		}
	}
	return m
}

// rough is a signature in running sums.
type rough struct {
	d, s, n, shift linear
	ok             linear // how many readings it is defined at
	sharingSD      float64
}

// Signatures that roughly bring less than the best by more than fineMargin are
// not weighed finely, and at most so many are. Judgement: more cost
// time.
const (
	fineMargin     = 4
	mostSignatures = 6
)

// best returns the segment and signature with the most evidence, above floor.
// All signatures are weighed roughly, the best of them finely.
func (s *scanner) best(sigs []signature, floor float64) segmentFit {
	out := segmentFit{logRatio: math.Inf(-1)}
	for _, q := range s.ranked(sigs, floor) {
		g := sigs[q]
		s.fill(g)
		var ok linear
		ok.sum(flags(g.ok))
		for _, x := range s.segments {
			// A signature that changes along the segment may bring somewhat
			// more than one that does not. Judgement.
			if 1.2*x.bound+1+g.prior < out.logRatio {
				break
			}
			if ok.of(x.i, x.j) < float64(x.j-x.i+1) {
				continue
			}
			if l, up := s.sums(g, x.i, x.j).logRatioAbove(out.logRatio - g.prior); up && l+g.prior > out.logRatio {
				out = segmentFit{x.i, x.j, q, l + g.prior}
			}
		}
	}
	return out
}

func flags(ok []bool) []float64 {
	v := make([]float64, len(ok))
	for i, x := range ok {
		if x {
			v[i] = 1
		}
	}
	return v
}

// ranked returns the signatures that roughly bring the most, best first.
func (s *scanner) ranked(sigs []signature, floor float64) []int {
	brings := make([]float64, len(sigs))
	top := floor
	var r rough
	for q, g := range sigs {
		r.take(g)
		best := math.Inf(-1)
		for _, x := range s.segments {
			if x.bound+g.prior < math.Max(best, top-fineMargin) {
				break
			}
			if r.ok.of(x.i, x.j) < float64(x.j-x.i+1) {
				continue
			}
			if l, up := s.roughly(r, x.i, x.j).logRatioAbove(best - g.prior); up {
				best = math.Max(best, l+g.prior)
			}
		}
		brings[q], top = best, math.Max(top, best)
	}
	var order []int
	for q, b := range brings {
		if b > top-fineMargin {
			order = append(order, q)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(brings[b], brings[a]) })
	return order[:min(mostSignatures, len(order))]
}

func (r *rough) take(g signature) {
	r.d.sum(g.d)
	r.s.sum(g.s)
	r.n.sum(g.n)
	r.shift.sum(g.shift)
	r.ok.sum(flags(g.ok))
	r.sharingSD = g.sharingSD()
}
