package fit

import "math"

// priorSigma gives each observation its scale: the stated accuracy, else one
// from fix type and HDOP, else that of an unaided receiver.
func (w *walk) priorSigma(readings []Reading) {
	for i := range w.obs {
		r := readings[w.obs[i].index]
		s := r.SigmaM
		if s > 0 && s < 1e4 {
			w.obs[i].sigmaM, w.obs[i].stated = math.Max(s, 0.003), true
			continue
		}
		w.obs[i].sigmaM = fixSigma(r.Fix, r.HDOP)
	}
}

// fixSigma is the usual one-sigma horizontal error per axis in metres by NMEA
// 0183 GGA quality; HDOP scales the code solutions. Common practice, no source
// (a locator's receiver is somewhat better than a handheld one).
func fixSigma(fix int, hdop float64) float64 {
	g := 1.0
	if hdop > 0 {
		g = clamp(hdop, 0.6, 5)
	}
	switch fix {
	case 4:
		return 0.015
	case 5:
		return 0.2
	case 2, 3, 9:
		return 0.45 * g
	case 1:
		return 1.0 * g
	case 6, 7:
		return 3.0
	}
	return 0.6 * g
}

// pinpointFloor is the error across the line with which the receiver finds the
// peak: 3 % of the depth, at least 2 cm (common practice, no source).
func pinpointFloor(readings []Reading) float64 {
	var d []float64
	for _, r := range readings {
		if r.DepthM > 0 && r.DepthM < 20 {
			d = append(d, r.DepthM)
		}
	}
	if len(d) == 0 {
		return 0.035
	}
	return clamp(0.03*median(d), 0.02, 0.12)
}
