package fit

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// priorSigma gives each observation its scale: the stated accuracy, else one
// from fix type and HDOP, else none yet (see guessSigma).
func (w *walk) priorSigma(readings []reading) {
	ratio := make([]float64, 0, len(w.obs)) // stated over what the fix would have
	rtk := 0
	for i := range w.obs {
		o, r := &w.obs[i], readings[w.obs[i].index]
		if r.Fix == int8(trace.FixRTK) {
			rtk++
		}
		fix, told := receiver.Errors(int(r.Fix), r.HDOP)
		switch s := r.SigmaM; {
		case receiver.Believed(s, int(r.Fix), r.HDOP):
			o.sigmaM, o.source, o.loose = math.Max(s, receiver.BestM), statedSigma, s >= receiver.PreciseFixM
			if told {
				ratio = append(ratio, math.Log(o.sigmaM/fix.UsualM))
			}
		case told:
			o.sigmaM, o.source = fix.UsualM, fixSource
		default:
			o.sigmaM, o.source = receiver.UnstatedM, noSource
		}
		if m := r.roundM(); m > 0 && o.source != noSource {
			o.sigmaM = math.Hypot(o.sigmaM, m)
		}
	}
	w.lnStatedToUsual = math.NaN()
	if 2*len(ratio) > len(w.obs) {
		w.lnStatedToUsual = median(ratio)
	}
	w.rtk = 2*rtk > len(w.obs)
}

// deepSigma adds to each scale what the peak is found worse at a place that is
// deeper than the line mostly is.
func (w *walk) deepSigma(readings []reading) {
	for i := range w.obs {
		o := &w.obs[i]
		d := readings[o.index].DepthM
		if o.exposed || !(d > deeper*w.depthM) || d > receiver.DeepestM {
			continue
		}
		if more := sq(receiver.PinpointM(d)) - sq(w.floorM); more > 0 {
			o.sigmaM = math.Sqrt(sq(o.sigmaM) + more)
		}
	}
}

// deeper is how much deeper than the median a reading is to count so. Judgement.
const deeper = 1.5

// guessSigma sets the scale of positions of which nothing is told, from how
// they scatter: the part that is common to neighbours doesn't show.
func (w *walk) guessSigma() {
	w.setSource()
	if w.source != noSource {
		return
	}
	for i := range w.obs {
		if w.obs[i].source == noSource {
			w.obs[i].sigmaM = 1
		}
	}
	floor := w.floorM
	w.floorM = 0
	raw := w.rawScatter()
	w.floorM = floor
	s := receiver.HiddenTimes * math.Sqrt(math.Max(sq(raw)-sq(floor), sq(receiver.MakersFixedM)))
	for i := range w.obs {
		if w.obs[i].source == noSource {
			w.obs[i].sigmaM = math.Min(s, receiver.CoarsestM)
		}
	}
	w.setScale()
}

// sigmaSource is where a scale comes from.
type sigmaSource int8

const (
	statedSigma sigmaSource = iota
	fixSource
	noSource
)

// setSource notes where most of the scales come from.
func (w *walk) setSource() {
	var n [3]int
	for _, o := range w.obs {
		n[o.source]++
	}
	w.source = statedSigma
	for s, k := range n {
		if k > n[w.source] {
			w.source = sigmaSource(s)
		}
	}
}

// lnPrior is ln of the prior of the factor on the prior scale. Stated figures
// are mostly right, sometimes optimistic by a factor of two or three and hardly
// ever pessimistic, and the fix type has its say; figures from the fix type are
// good to a factor of 1.6, those from the scatter to 1.7 (judged; no source), unless
// the fix is not the one shown.
func (w *walk) lnPrior(factor float64) float64 {
	x := math.Log(factor)
	switch w.source {
	case fixSource:
		return lnFixPrior(x, receiver.FixSpread, w.scaleM)
	case noSource:
		return -0.5 * sq(x/receiver.ScatterSpread)
	}
	l := math.Log(0.5*bell(x, receiver.StatedSpread) + 0.5*bell(x-receiver.OptimismLn, receiver.OptimismSpread))
	if !math.IsNaN(w.lnStatedToUsual) {
		l += lnFixPrior(x+w.lnStatedToUsual, receiver.StatedToFixSpread, w.scaleM/math.Exp(w.lnStatedToUsual))
	}
	return l
}

// lnPriors are those of all factors. A receiver that shows a fix which it has not states an
// accuracy that goes with it in half of all cases (judgement, as of stated figures): then
// neither tells anything, and the error is that of any kind of fix.
func (w *walk) lnPriors() (ln [factorSteps]float64) {
	shown, other := 0.0, 0.0
	var asOther [factorSteps]float64
	for k, f := range factors {
		ln[k] = w.lnPrior(f.by)
		asOther[k] = anyFix(f.ln, receiver.FixSpread, w.scaleM)
		shown, other = shown+math.Exp(ln[k]), other+asOther[k]
	}
	if !w.statedOfFix() || !w.asGoodAsFixed() || !w.scatters() {
		return ln
	}
	const neither = receiver.FalseFix / 2
	for k := range ln {
		ln[k] = math.Log((1-neither)*math.Exp(ln[k])/shown + neither*asOther[k]/other)
	}
	return ln
}

// lnFixPrior is ln of the prior of an error whose ln is x beyond what the fix usually
// has, usualM, one sigma where the fix is the one shown. One that is not is of any kind.
func lnFixPrior(x, sigma, usualM float64) float64 {
	return math.Log((1-receiver.FalseFix)*bell(x, sigma) + receiver.FalseFix*anyFix(x, sigma, usualM))
}

// anyFix is the prior of an error by any kind of fix whose ln is x beyond usualM.
func anyFix(x, sigma, usualM float64) float64 {
	p := 0.0
	for _, kindM := range receiver.KindsUsualM {
		p += bell(x-math.Log(kindM/usualM), sigma) / float64(len(receiver.KindsUsualM))
	}
	return p
}

// bell is a normal density but for 1/√2π.
func bell(x, sigma float64) float64 { return math.Exp(-0.5*sq(x/sigma)) / sigma }

// otherFixM is what positions may be off that are taken to be as good as fixed by carrier phase,
// where a noise model says that they are not: 0 where it does not.
func (w *walk) otherFixM(m noiseModel) float64 {
	ownM := math.Hypot(m.factor*w.scaleM, m.pinM)
	if !w.asGoodAsFixed() || ownM < math.Hypot(receiver.PreciseFixM, poorlyFound*w.floorM) {
		return 0
	}
	return receiver.OtherFixM(ownM)
}

// poorlyFound is how many times what finding the peak usually errs by it hardly ever errs by:
// whatever scatters more comes of the positions. Judgement.
const poorlyFound = 3.0

// asGoodAsFixed reports whether most positions are taken to be as good as fixed by carrier phase:
// shown to be so, with nothing worse stated of them, or by another fix but stated to be that good;
// and whether enough were read on the walk to tell otherwise, for exposed places scatter about
// nothing.
func (w *walk) asGoodAsFixed() bool {
	return w.scaleM < receiver.PreciseFixM && (w.source == fixSource || w.statedOfFix()) && w.walked >= leastScatterReadings
}

// statedOfFix reports whether most scales are stated, of a fix that is told.
func (w *walk) statedOfFix() bool {
	return w.source == statedSigma && !math.IsNaN(w.lnStatedToUsual)
}

// Readings farther apart than mostScatterStepM, and fewer than leastScatterReadings, tell of
// no scatter: a line may bend between them. Judgement.
const (
	mostScatterStepM     = 6.0
	leastScatterReadings = 10
)

// scatters reports whether positions surely scatter more than they are taken to.
func (w *walk) scatters() bool {
	return w.stepM <= mostScatterStepM && w.rawScatter() > mostScatter
}

// hardlyTheFixM is that of all noise models together where they more likely than not say so of
// positions that are shown as RTK fixed. Of others that are stated to be as good it is told that
// what is stated is too little.
func (w *walk) hardlyTheFixM(n noisePosterior) float64 {
	if !w.rtk {
		return 0
	}
	weight, sum := 0.0, 0.0
	for _, m := range n.models {
		if off := w.otherFixM(m); off > 0 {
			weight, sum = weight+m.weight, sum+m.weight*sq(off)
		}
	}
	if weight < 0.5 {
		return 0
	}
	return math.Sqrt(sum / weight)
}

// usualDepth is the median depth of the readings, receiver.UsualDepthM without any.
func usualDepth(readings []reading) float64 {
	d := make([]float64, 0, len(readings))
	for _, r := range readings {
		if r.DepthM > 0 && r.DepthM < receiver.DeepestM {
			d = append(d, r.DepthM)
		}
	}
	if len(d) == 0 {
		return receiver.UsualDepthM
	}
	return median(d)
}
