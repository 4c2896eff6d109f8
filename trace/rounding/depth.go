package rounding

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// DepthStepM is the step on which the depths of a line were written, in metres; 0 where
// none shows. A display shows what it shows of a depth that is not used, too, and few
// readings tell a coarse step by those of the other lines of their file.
func (k Files) DepthStepM(rs []trace.Reading) float64 {
	var shown, used []float64
	stepM := 0.0
	for i := range rs {
		r := &rs[i]
		if !shownDepth(r) {
			continue
		}
		shown = append(shown, r.DepthM)
		if !r.DepthDropped && r.Status != trace.StatusSetAside && r.Status != trace.StatusCheck {
			used = append(used, r.DepthM)
		}
		if int(r.File) < len(k) {
			stepM = math.Max(stepM, k[r.File].depthStepM)
		}
	}
	for _, d := range shown {
		if !receiver.OnDepthStep(d, stepM) {
			stepM = 0
			break
		}
	}
	if stepM = math.Max(stepM, receiver.DepthStep(shown)); stepM >= receiver.CoarseDepthM {
		return stepM
	}
	return receiver.DepthStep(used)
}

// shownDepth reports whether a reading has a depth that a display showed.
func shownDepth(r *trace.Reading) bool { return r.DepthM > 0 && !r.Exposed }
