package measure

import "math"

// lowess is W. S. Cleveland (1979), Robust locally weighted regression, JASA
// 74:829: local lines over the nearest quarter of the points (no fewer than
// seven), tricube weights, three robust rounds.
func lowess(t, v []float64) []float64 {
	n := len(t)
	k := min(n, max(7, n/4))
	robust := make([]float64, n)
	for i := range robust {
		robust[i] = 1
	}
	out := make([]float64, n)
	for range 4 {
		res := make([]float64, n)
		for i := range t {
			out[i] = localLine(t, v, robust, i, k)
			res[i] = math.Abs(v[i] - out[i])
		}
		s := 6 * quantile(res, 0.5)
		for i, e := range res {
			u := 0.0
			if s > 0 {
				u = e / s
			}
			robust[i] = math.Max(0, 1-u*u) * math.Max(0, 1-u*u)
		}
	}
	return out
}

func localLine(t, v, robust []float64, i, k int) float64 {
	a, b := i, i+1
	for b-a < k {
		if a > 0 && (b == len(t) || t[i]-t[a-1] <= t[b]-t[i]) {
			a--
		} else {
			b++
		}
	}
	h := math.Max(t[i]-t[a], t[b-1]-t[i]) * 1.0001
	var s0, s1, s2, r0, r1 float64
	for j := a; j < b; j++ {
		u := (t[j] - t[i]) / h
		c := 1 - math.Abs(u*u*u)
		w := c * c * c * robust[j]
		s0, s1, s2 = s0+w, s1+w*u, s2+w*u*u
		r0, r1 = r0+w*v[j], r1+w*u*v[j]
	}
	if det := s0*s2 - s1*s1; det > 1e-9*s0*s2 {
		return (r0*s2 - r1*s1) / det
	}
	if s0 > 0 {
		return r0 / s0
	}
	return v[i]
}
