package bleed

import "math"

// amplitudeSD is the part by which a signature's amplitude may be off inside a
// coupled segment. Judgement.
const amplitudeSD = 0.2

// segmentFit is one coupled segment, readings [from, to] of the window.
type segmentFit struct {
	from, to int
	sig      int
	logRatio float64
}

// scanner holds what scanning a window needs; buffers are reused.
type scanner struct {
	col        *columns
	lo, hi     int
	told       // any block may be nil
	tt, tc, cc []float64
	bt, bc     []float64
	ntt, nbt   []float64
}

// moments are sums over a segment: precision and score of the signature and of
// the sharing current, and the null's part of the signature.
type moments struct {
	tt, tc, cc, bt, bc, ntt, nbt float64
	sharingSD                    float64
}

// logRatioAbove integrates amplitude and sharing out of the evidence; false
// where it cannot exceed floor, found out without a logarithm.
func (m moments) logRatioAbove(floor float64) (float64, bool) {
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

// fill prepares row sums for one signature: after it, tt[k*n+l] is the sum of
// the symmetric matrix's row k up to column l.
func (s *scanner) fill(g signature) {
	n := s.hi - s.lo
	for k := range n {
		var tt, tc, cc float64
		row := k * n
		if s.ds != nil {
			d, e := s.ds.prec[k*2*n:(k+1)*2*n], s.ds.prec[(n+k)*2*n:(n+k+1)*2*n]
			s.bt[k] = g.d[k]*s.ds.py[k] + g.s[k]*s.ds.py[n+k]
			s.bc[k] = s.ds.py[n+k]
			for l := 0; l <= k; l++ {
				// W(k,D;l,·) and W(k,S;l,·) on the signature at l.
				wd := d[l]*g.d[l] + d[n+l]*g.s[l]
				ws := e[l]*g.d[l] + e[n+l]*g.s[l]
				tt += g.d[k]*wd + g.s[k]*ws
				// Cross terms of row k with both orders of (T, 1).
				tc += (ws + g.d[k]*d[n+l] + g.s[k]*e[n+l]) / 2
				cc += e[n+l]
				s.tt[row+l], s.tc[row+l], s.cc[row+l] = tt, tc, cc
			}
		}
		s.nbt[k] = 0
		clear(s.ntt[row : row+k+1])
		for _, x := range []struct {
			b *block
			t []float64
		}{{s.null, g.n}, {s.pos, g.shift}} {
			if x.b == nil {
				continue
			}
			p, sum := x.b.prec[k*n:(k+1)*n], 0.0
			s.nbt[k] += x.t[k] * x.b.py[k]
			for l := 0; l <= k; l++ {
				sum += x.t[k] * p[l] * x.t[l]
				s.ntt[row+l] += sum
			}
		}
	}
}

// grow adds reading j to the sums of segment [i, j−1].
func (s *scanner) grow(m *moments, i, j int) {
	n := s.hi - s.lo
	row := j * n
	span := func(v []float64) float64 { // twice the off-diagonal plus the diagonal
		full, off := v[row+j], 0.0
		if j > 0 {
			off = v[row+j-1]
		}
		left := 0.0
		if i > 0 {
			left = v[row+i-1]
		}
		return 2*(off-left) + full - off
	}
	if s.ds != nil {
		m.tt += span(s.tt)
		m.tc += span(s.tc)
		m.cc += span(s.cc)
		m.bt += s.bt[j]
		m.bc += s.bc[j]
	}
	m.ntt += span(s.ntt)
	m.nbt += s.nbt[j]
}

// best returns the segment and signature with the most evidence.
func (s *scanner) best(sigs []signature) segmentFit {
	n := s.hi - s.lo
	for _, p := range []*[]float64{&s.tt, &s.tc, &s.cc, &s.ntt} {
		if len(*p) < n*n {
			*p = make([]float64, n*n)
		}
	}
	for _, p := range []*[]float64{&s.bt, &s.bc, &s.nbt} {
		if len(*p) < n {
			*p = make([]float64, n)
		}
	}
	out := segmentFit{logRatio: math.Inf(-1)}
	for q, g := range sigs {
		s.fill(g)
		s.segments(g, func(i, j int, m *moments) {
			if l, ok := m.logRatioAbove(out.logRatio - g.prior); ok && l+g.prior > out.logRatio {
				out = segmentFit{i, j, q, l + g.prior}
			}
		})
	}
	return out
}

// segments calls f for every admissible segment of a signature.
func (s *scanner) segments(g signature, f func(i, j int, m *moments)) {
	n := s.hi - s.lo
	st := func(k int) float64 { return s.col.rd[s.lo+k].StationM }
	stride := 1 + n/80
	for i := 0; i < n; i += stride {
		if !g.ok[i] {
			continue
		}
		m := moments{sharingSD: g.sharingSD()}
		for j := i; j < n && g.ok[j]; j++ {
			s.grow(&m, i, j)
			if j-i < 2 {
				continue
			}
			if l := st(j) - st(i); l >= 3 && l >= 2.5*s.col.depth[s.lo+i] {
				f(i, j, &m)
			}
		}
	}
}
