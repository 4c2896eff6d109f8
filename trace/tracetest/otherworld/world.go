package otherworld

import (
	"math"

	"loamline.example/trace/tracetest"
)

// world is everything that a job is drawn from. Each family starts from the
// same wide ranges and settles what it is about.
type world struct {
	r         rng
	shape     shape
	lengthM   float64 // of the traced stretch, about
	trench    trench
	gait      gait
	pos       positioning
	faults    faults
	receiver  receiver
	scaleSD   float64 // of the receiver's depth scale, one sigma
	habit     habit
	pinRel    float64 // of pinpointing, per depth
	pinM      float64 // and at least
	exposed   int
	wrongDug  bool // an exposure is of something else
	lifts     int
	neighbors []*neighbor
	hookup    string
	hookAwayM float64 // from the hookup to the first place read
	ohmM      float64
	freqHz    float64
	dBPerKm   float64
	amps      float64
	recorded  bool // the main line is on record
	recordM   float64
	lacks     map[tracetest.Column]bool
	needs     map[tracetest.Column]bool
	digits    int
	feet      bool // grid positions in whole feet
	shuffled  bool
	saturates bool
}

func (w *world) lack(cols ...tracetest.Column) {
	for _, c := range cols {
		w.lacks[c] = true
	}
}

func (w *world) need(cols ...tracetest.Column) {
	for _, c := range cols {
		w.needs[c] = true
	}
}

// wide draws a job that is about nothing in particular.
func wide(r rng) *world {
	w := &world{
		r: r, shape: anyShape, trench: drawTrench(r), pos: drawPositioning(r), receiver: drawReceiver(r), scaleSD: 0.045,
		pinRel: r.scale(0.01, 0.07), pinM: r.in(0.005, 0.03),
		habit:  pick(r, byPeak, byPeak, byPeak, byPeak, byPeak, byPeak, byBoth, byBoth, byNull),
		hookup: pick(r, "direct", "direct", "direct", "clamp", "clamp", "induction"), hookAwayM: r.scale(5, 30),
		ohmM: r.scale(10, 1000), freqHz: pick(r, 512.0, 640, 982, 8192, 8192, 8192, 33000, 33000, 65500, 83000, 131000, 200000),
		amps: r.scale(0.02, 0.5), recorded: r.yes(0.3), recordM: r.scale(0.05, 0.6),
		lacks: map[tracetest.Column]bool{}, needs: map[tracetest.Column]bool{},
		digits: pick(r, 9, 8, 8, 7, 7, 7, 6), shuffled: r.yes(0.06), saturates: r.yes(0.08),
	}
	// Ground so conductive that depths read far too shallow is not traced at a
	// high frequency.
	for groundDepth(w.trench.meanM, w.receiver.gapM, w.freqHz, w.ohmM) < 0.95 {
		w.freqHz /= 4
	}
	w.dBPerKm = r.scale(4, 40) * math.Pow(w.freqHz/1000, 0.35)
	w.gait, w.lengthM = drawGait(r)
	w.faults = drawFaults(r)
	if w.hookup == "induction" {
		w.hookAwayM = r.scale(10, 30)
	}
	if r.yes(0.15) {
		w.lifts = 1 + r.IntN(3)
	}
	if r.yes(0.15) {
		w.exposed = 1 + r.IntN(2)
	}
	return w
}
