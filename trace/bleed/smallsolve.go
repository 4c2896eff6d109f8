package bleed

import "math"

// choleskyOf factors a small positive matrix with its diagonal raised by the
// part lambda. Gonum's (mat.Cholesky) takes the same time, but adds in another order, by which
// one of 405 simulated maps differs by a point of an outline, millimetres from the next.
func choleskyOf(h [pCount][pCount]float64, lambda float64) (l [pCount][pCount]float64, ok bool) {
	for i := range h {
		for j := 0; j <= i; j++ {
			s := h[i][j]
			if i == j {
				s *= 1 + lambda
			}
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				if !(s > 0) {
					return l, false
				}
				l[i][i] = math.Sqrt(s)
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l, true
}

func solveDamped(h [pCount][pCount]float64, g params, lambda float64) (params, bool) {
	l, ok := choleskyOf(h, lambda)
	if !ok {
		return g, false
	}
	return backward(l, forward(l, g)), true
}

func forward(l [pCount][pCount]float64, g params) params {
	for i := range g {
		for k := range i {
			g[i] -= l[i][k] * g[k]
		}
		g[i] /= l[i][i]
	}
	return g
}

func backward(l [pCount][pCount]float64, g params) params {
	for i := pCount - 1; i >= 0; i-- {
		for k := i + 1; k < pCount; k++ {
			g[i] -= l[k][i] * g[k]
		}
		g[i] /= l[i][i]
	}
	return g
}

// invert returns the inverse and the log determinant.
func invert(h [pCount][pCount]float64) (inv [pCount][pCount]float64, logDet float64, ok bool) {
	l, ok := choleskyOf(h, 0)
	if !ok {
		return inv, 0, false
	}
	for i := range h {
		logDet += 2 * math.Log(l[i][i])
		var e params
		e[i] = 1
		inv[i] = backward(l, forward(l, e))
	}
	return inv, logDet, true
}
