package otherworld

import (
	"slices"

	"loamline.example/trace/tracetest"
)

// family is a kind of job and what makes it one.
type family struct {
	tracetest.Family
	about func(*world)
}

func quiet(name, shows string, about func(*world)) family {
	return family{tracetest.Family{Name: name, Shows: shows}, about}
}

func families() []family {
	return slices.Concat(shapeFamilies, depthFamilies, positionFamilies, walkFamilies, neighborFamilies, bleedFamilies, jumpFamilies)
}

// shaped is a job about the shape of its line.
func shaped(s shape) func(*world) { return func(w *world) { w.shape = s } }

// within is a shape that readings far apart would not show.
func within(s shape, mostM float64) func(*world) {
	return func(w *world) {
		w.shape = s
		if w.gait.spacingM > mostM {
			w.gait.spacingM = w.r.in(mostM/3, mostM)
		}
		w.gait.loose = min(w.gait.loose, 0.5)
		w.lengthM = min(w.lengthM, 100)
	}
}

var shapeFamilies = []family{
	quiet("straight", "one straight run", shaped(straightRun)),
	quiet("elbows", "legs joined by fittings", shaped(elbows)),
	quiet("sweeps", "legs joined by bends of 0.5 to 5 m radius", shaped(sweeps)),
	quiet("mixed", "turns of every kind", shaped(mixedShape)),
	quiet("letters", "L, Z and U shapes", shaped(letters)),
	quiet("wander", "laid by eye, in slow waves", shaped(wavy)),
	quiet("arc", "one wide curve", shaped(arc)),
	quiet("ring", "270 to 380 degrees round", within(ring, 8)),
	quiet("branch", "a branch walked out and back under one name", within(spur, 4)),
	quiet("short-leg", "aside by 1 to 4 m for 2 to 4 m", within(shortLeg, 2.5)),
	quiet("hairpin", "back beside itself at 0.6 to 2 m", within(hairpin, 5)),
	quiet("sparse", "few readings, and elbows between them", func(w *world) {
		w.shape = pick[shape](w.r, elbows, letters, sweeps, mixedShape)
		w.gait.spacingM, w.gait.loose, w.gait.logS = w.r.scale(10, 30), w.r.in(0.05, 0.4), 0
		w.lengthM = w.gait.spacingM * w.r.in(8, 25)
	}),
}

// deep is a job about depth: on any line, a depth everywhere.
func deep(f func(r rng, t trench, fromM, toM float64) []tracetest.Knot, mostM float64) func(*world) {
	return func(w *world) {
		w.trench.feature, w.trench.waves, w.trench.gradeM = f, nil, 0
		w.gait.spacingM = min(w.gait.spacingM, mostM)
		w.lengthM = max(40, min(w.lengthM, 150))
		w.need(tracetest.ColDepth)
	}
}

// offScale is a receiver whose depths are all wrong by 4 to 12 %.
func offScale(w *world) {
	w.receiver.scaleRel, w.scaleSD = w.r.side()*w.r.in(0.04, 0.12), 0.085
	w.need(tracetest.ColDepth)
}

var depthFamilies = []family{
	quiet("dive", "goes under something, to 3 m at most", deep(dive, 4)),
	quiet("hump", "goes over something", deep(hump, 3)),
	quiet("depth-steps", "drops and rises within a metre", deep(depthSteps, 3)),
	quiet("depth-ramp", "runs steadily from one depth to another", deep(longRamp, 15)),
	quiet("depth-scale", "all depths wrong by one factor, and nothing that shows it", func(w *world) {
		offScale(w)
		w.exposed = 0
	}),
	quiet("depth-scale-exposed", "all depths wrong by one factor, and exposures that show it", func(w *world) {
		offScale(w)
		w.exposed, w.wrongDug = 1+w.r.IntN(4), false
	}),
	quiet("exposure-contradicts", "one exposure is of something else", func(w *world) {
		w.exposed, w.wrongDug = 1+w.r.IntN(3), true
	}),
}

func (w *world) fixed(kinds ...int) { w.pos.fixes, w.pos.lies = kinds, 0 }

var positionFamilies = []family{
	quiet("rtk", "RTK throughout", func(w *world) { w.fixed(4) }),
	quiet("float", "RTK float throughout", func(w *world) { w.fixed(5) }),
	quiet("differential", "differential throughout", func(w *world) { w.fixed(2) }),
	quiet("autonomous", "autonomous throughout", func(w *world) { w.fixed(1) }),
	quiet("fix-changes", "the fix comes and goes", func(w *world) {
		w.fixed(pick(w.r, []int{4, 5}, []int{4, 5, 1}, []int{4, 2}, []int{5, 2, 1}, []int{4, 4, 4, 1})...)
	}),
	quiet("honest-off", "accuracy stated wrong by a factor of 0.3 to 3", func(w *world) {
		w.pos.stateOff(w.r)
		for w.pos.noise.Optimism > 0.8 && w.pos.noise.Optimism < 1.25 {
			w.pos.stateOff(w.r)
		}
		w.need(tracetest.ColHAcc)
	}),
	quiet("unstated", "no accuracy stated, and often no fix", func(w *world) {
		w.pos.noise.Stated = tracetest.StatedAbsent
		w.lack(tracetest.ColHAcc)
		if w.r.yes(0.5) {
			w.lack(tracetest.ColFix, tracetest.ColHDOP)
		}
	}),
	quiet("wrong-fix", "the fix shown is not the true one", func(w *world) {
		w.pos.fixes, w.pos.lies = []int{pick(w.r, 5, 5, 2)}, 4
		if w.r.yes(0.3) {
			w.pos.fixes, w.pos.lies = []int{4}, pick(w.r, 1, 5)
		}
		w.need(tracetest.ColFix)
	}),
	quiet("slow-drift", "one offset or a slow drift makes most of the error", func(w *world) {
		n := &w.pos.noise
		n.FixedShare = w.r.in(0.2, 0.7)
		n.CommonShare, n.TauS = (1-n.FixedShare)*w.r.in(0.7, 0.97), w.r.scale(300, 900)
	}),
	quiet("leaps", "single positions leap by 1 to 20 m", func(w *world) { w.faults.leaps = w.r.scale(0.02, 0.12) }),
	quiet("bursts", "neighbouring positions leap together", func(w *world) { w.faults.bursts = 1 + w.r.IntN(3) }),
	quiet("rounded", "positions in 4 to 7 decimals, or in whole feet", func(w *world) {
		w.digits = pick(w.r, 4, 5, 5, 5, 6, 6, 6, 6, 7, 7)
		w.feet = w.r.yes(0.3)
	}),
}

var walkFamilies = []family{
	quiet("two-passes", "walked twice, 0.3 to 1 m apart", func(w *world) {
		w.fixed(5)
		w.pos.sigmaM[5] = w.r.in(0.25, 0.6)
		w.pos.noise.FixedShare, w.pos.noise.CommonShare, w.pos.noise.TauS = 0, w.r.in(0.8, 0.95), w.r.scale(200, 900)
		w.gait.passes, w.gait.waitS = []bool{false, w.r.yes(0.3)}, 8*w.pos.noise.TauS
	}),
	quiet("there-and-back", "walked out and straight back", func(w *world) {
		w.gait.passes, w.gait.waitS = []bool{false, true}, w.r.scale(5, 120)
	}),
	quiet("repeat-passes", "walked three to five times", func(w *world) {
		w.gait.passes, w.gait.waitS = []bool{false, w.r.yes(0.5), w.r.yes(0.5)}, w.r.scale(60, 5000)
		for range w.r.IntN(3) {
			w.gait.passes = append(w.gait.passes, w.r.yes(0.5))
		}
		w.lengthM = min(w.lengthM, 60*w.gait.spacingM)
	}),
	quiet("sweep-search", "read while swinging across the line", func(w *world) {
		w.gait.zigM, w.gait.zigOver = w.r.scale(0.2, 1.2), w.r.scale(2, 8)
		w.gait.spacingM, w.gait.loose, w.gait.logS = w.gait.zigOver*w.r.in(0.15, 0.4), w.r.in(0.1, 0.4), 0
		w.lengthM = w.gait.spacingM * w.r.in(50, 200)
		w.habit = byPeak
	}),
	quiet("loose-walk", "read beside the peak, now to the left, now to the right", func(w *world) {
		w.gait.strayM, w.gait.strayOver = w.r.in(0.08, 0.3), w.r.scale(3, 25)
	}),
	quiet("stops", "logged every second, walking and standing", func(w *world) {
		w.gait.logS, w.gait.speedMS = 1, w.r.in(0.3, 1.1)
		w.lengthM = w.r.in(60, 250) * w.gait.speedMS
	}),
	quiet("irregular", "readings at any distance, 0.3 to 30 m", func(w *world) {
		w.gait.loose, w.gait.logS, w.gait.spacingM = 1, 0, w.r.scale(2, 10)
	}),
	quiet("gap", "a stretch that nobody could walk", func(w *world) {
		a := w.r.in(0.2, 0.6)
		w.lengthM = max(60, w.lengthM)
		w.gait.gap = [2]float64{a, a + w.r.in(0.12, 0.3)}
	}),
	quiet("by-null", "marks the null", func(w *world) { w.habit = byNull }),
	quiet("induction-start", "read from close beside an induction transmitter on", func(w *world) {
		w.hookup, w.hookAwayM = "induction", w.r.in(1.5, 7)
		w.gait.spacingM, w.gait.passes = min(w.gait.spacingM, 5), []bool{false}
		w.need(tracetest.ColHookup)
	}),
	quiet("shuffled", "rows in no order", func(w *world) {
		w.shuffled = true
		if w.r.yes(0.6) {
			w.lack(tracetest.ColTime)
		}
	}),
	quiet("few-columns", "position, depth and little else", func(w *world) {
		for _, c := range tracetest.Columns() {
			if c != tracetest.ColLat && c != tracetest.ColLon && c != tracetest.ColDepth && w.r.yes(0.8) {
				w.lack(c)
			}
		}
	}),
}
