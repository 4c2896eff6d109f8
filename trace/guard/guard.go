package guard

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/claims"
	"loamline.example/trace/setups"
	"loamline.example/trace/walkorder"
)

// Rule is what a line is held to.
type Rule struct {
	HalfWidthM float64 // of the tolerance zone, from the centerline
	// OwnM is a reading's own position error, one sigma per axis, as stated or by
	// its fix; NaN where nothing tells it.
	OwnM func(*trace.Reading) float64
	// DepthScale is what a depth that was read stands over the true one, as
	// exposures of the line showed; 0 where none did.
	DepthScale float64
}

// Kind says what was breached.
type Kind int8

// The kinds of breach.
const (
	Off       Kind = iota // used readings off the line
	Deep                  // used or dropped depths off the profile
	Exposed               // an exposed place outside the bands
	Uncovered             // readings taken where no line is drawn, or set aside in a block
	Zigzag                // the line follows a sweep across it
	Sparse                // too few readings to tell where a bend lies
	Passes                // passes over one stretch that do not agree
	Step                  // a lateral step to a parallel course
	Between               // what the band alone must hold: told as a note, if at all
)

// Breach is one claim of the line that the readings contradict.
type Breach struct {
	Kind       Kind
	FromM, ToM float64 // stations; Unknown where the places lie off the line
	// BandM and DepthBandM are what the 95 % half-widths must be on the stretch to
	// hold it, 0 where they need not grow.
	BandM, DepthBandM float64
	Whole             bool     // the bands of the whole line must grow to that
	Once              bool     // it stays however wide they are, which are in it: they grow to it once
	Places            []geo.XY // off the line, in travel order
	Past              []geo.XY // the straight way past them, where the walk goes on
	Readings          int      // that are concerned
	SeparationM       float64  // of a step: how far the courses are apart
	Covered           bool     // the places lie in the line's zone or in a gap
	// Walked tells that the walk went to the places and on from them at its own
	// stride: they are no leap.
	Walked bool
	Remark trace.Remark
	Among  trace.Remark // the worst of its sort, where those are told together
}

// Check returns what the readings contradict, in the order of the line, of some kinds
// or without any of every kind. A line without a centerline claims nothing.
func Check(l *trace.Line, rule Rule, of ...Kind) []Breach {
	out := asked(l, rule, func(c check) bool { return len(of) == 0 || slices.Contains(of, c.kind) })
	return slices.DeleteFunc(out, func(b Breach) bool { return len(of) > 0 && !slices.Contains(of, b.Kind) })
}

// Unheld is what of it tells with how many readings the line is off, swept across or not drawn.
func Unheld(l *trace.Line, rule Rule) []Breach {
	return asked(l, rule, func(c check) bool { return c.counts })
}

// check finds breaches of a kind, and perhaps of others.
type check struct {
	kind   Kind
	all    func() []Breach
	counts bool // the readings that are off the line, swept or not drawn
	once   bool // all of its breaches stay, however wide the bands are
}

// asked is what some checks find.
func asked(l *trace.Line, rule Rule, ask func(check) bool) (out []Breach) {
	if l.Centerline == nil || len(l.Centerline.Parts) == 0 {
		return nil
	}
	v := newView(l, rule)
	for _, c := range []check{
		{kind: Exposed, all: v.exposed}, {kind: Off, all: v.residuals, counts: true}, {kind: Off, all: v.overshoots}, {kind: Deep, all: v.depths},
		{kind: Uncovered, all: v.covered, counts: true}, {kind: Uncovered, all: v.undrawnStrides, counts: true}, {kind: Zigzag, all: v.zigzags, counts: true},
		{kind: Sparse, all: v.sparse}, {kind: Step, all: v.steps}, {kind: Step, all: v.stepsOverGaps}, {kind: Passes, all: v.passes}, {kind: Passes, all: v.sessionsApart},
		{kind: Passes, all: v.beside}, {kind: Passes, all: v.exposedAcross}, {kind: Between, all: v.corners}, {kind: Between, all: v.looseBends}, {kind: Between, all: v.weaves},
		{kind: Between, all: v.fixSteps}, {kind: Off, all: v.spurs}, {kind: Off, all: v.islets}, {kind: Off, all: v.besideCourse, once: true}, {kind: Off, all: v.cutCorners, counts: true},
		{kind: Step, all: func() []Breach { return v.leaps(out) }}, {kind: Off, all: func() []Breach { return v.leapt(out) }, once: true},
	} {
		if ask(c) {
			out = append(out, c.all()...)
		}
	}
	return out
}

// view is a line with what the checks share.
type view struct {
	*trace.Line
	rule  Rule
	parts []partIndex
	// The stride of the walk that was asked for last.
	usualStepOf struct {
		of              *int
		n               int
		medianM, spread float64
	}
	strideTime time.Duration     // usual, from one used reading to the next
	claims     claims.Claims     // ways that findings speak of
	near       int               // the part that held the last place asked for
	boxes      geo.PolylineBoxes // of the parts
	order      []int             // readings in travel order, or by place where the rows are no walk
	inOrder    bool              // the rows are a walk
	nearby     []int             // room for the parts near a place
	feet       []place           // of each reading, by its index; part -1 where it has no place
	setups     []setups.Setup    // of each reading
	byPlace    []int             // the used readings by part and station
	walkedOn   [][]int           // of each part, in travel order
	spacing    []float64         // of the used readings, by part
	whiteM     float64           // how far neighbouring used readings scatter about the line, one sigma
	owns       []float64         // see ownM, which most checks ask for: of each reading
	lostAt     *geo.Points       // see readTowards
	stepsFound []Breach          // see steps
	stepsKnown bool
}

// place is where a reading falls on the line.
type place struct {
	part     int
	stationM float64 // the line's
	offsetM  float64 // positive to the right
	distM    float64
	bandM    float64
	beyond   bool // the foot is an end of its part
}

type partIndex struct {
	trace.Part
	line  geo.Polyline
	index *geo.PolylineIndex
}

func newView(l *trace.Line, rule Rule) *view {
	v := &view{Line: l, rule: rule, setups: setups.Of(l.Readings)}
	v.claims = claims.Of(v.Findings, v.rule.HalfWidthM)
	for _, p := range l.Centerline.Parts {
		line := geo.NewPolyline(p.Path())
		v.parts = append(v.parts, partIndex{p, line, line.Index()})
	}
	v.boxes = geo.NewPolylineBoxes(len(v.parts), func(k int) geo.Polyline { return v.parts[k].line })
	v.feet = make([]place, len(l.Readings))
	for i := range l.Readings {
		v.feet[i] = place{part: -1}
		if l.Readings[i].Placed() {
			v.feet[i] = v.place(l.Readings[i].Pos)
		}
	}
	if v.order, v.inOrder = walkorder.Travel(l.Readings); !v.inOrder {
		v.order = v.sorted(func(*trace.Reading) bool { return true })
	}
	v.strideTime = v.usualStrideTime()
	v.byPlace = v.sorted(func(r *trace.Reading) bool { return r.Status == trace.StatusUsed })
	used := slices.DeleteFunc(slices.Clone(v.order), func(i int) bool { return v.Readings[i].Status != trace.StatusUsed || v.feet[i].part < 0 })
	v.walkedOn = v.byPart(used)
	v.spacing = v.spacings()
	v.whiteM = v.whiteScatter()
	return v
}

// place returns where a point falls on the nearest part.
func (v *view) place(at geo.XY) place {
	best := place{part: -1, distM: math.Inf(1)}
	// What is asked for one after the other lies mostly on one part: no part that is
	// surely farther off is looked at.
	within := math.Inf(1)
	var onLast geo.Foot
	if v.near < len(v.parts) {
		onLast = v.parts[v.near].index.Nearest(at)
		within = math.Abs(onLast.OffsetM) * (1 + 1e-9)
	}
	v.nearby = v.boxes.Within(v.nearby[:0], at, within)
	for _, k := range v.nearby {
		p := &v.parts[k]
		if least := p.index.LeastM(at); least > within || least >= best.distM {
			continue
		}
		f := onLast
		if k != v.near {
			f = p.index.Nearest(at)
		}
		if d := math.Abs(f.OffsetM); d >= best.distM {
			continue
		}
		best = place{part: k, stationM: p.FromM() + f.StationM, offsetM: f.OffsetM, distM: math.Abs(f.OffsetM),
			beyond: f.StationM <= 0 || f.StationM >= p.line.Length()}
	}
	if best.part >= 0 {
		v.near = best.part
		best.bandM = v.bandAt(best.part, best.stationM)
	}
	return best
}

// bandAt is the horizontal band at a station of a part, 0 where none is known.
func (v *view) bandAt(part int, stationM float64) float64 {
	return lerpAt(v.parts[part].Vertices, stationM, func(x *trace.Vertex) float64 { return x.Horizontal95M })
}

// commonAt is what of the horizontal band there is an error that the whole walk shares.
func (v *view) commonAt(part int, stationM float64) float64 {
	return lerpAt(v.parts[part].Vertices, stationM, func(x *trace.Vertex) float64 { return x.Common95M })
}

// lerpAt interpolates a vertex's number; 0 where it is not known.
func lerpAt(vs []trace.Vertex, stationM float64, of func(*trace.Vertex) float64) float64 {
	i := sort.Search(len(vs), func(i int) bool { return vs[i].StationM >= stationM })
	i = max(1, min(i, len(vs)-1))
	a, b := &vs[i-1], &vs[i]
	f := 0.0
	if b.StationM > a.StationM {
		f = max(0, min(1, (stationM-a.StationM)/(b.StationM-a.StationM)))
	}
	x := of(a) + f*(of(b)-of(a))
	if !trace.Known(x) {
		return 0
	}
	return x
}

// sorted lists readings of a sort by part and station.
func (v *view) sorted(is func(*trace.Reading) bool) []int {
	var out []int
	for i := range v.Readings {
		if v.feet[i].part >= 0 && is(&v.Readings[i]) {
			out = append(out, i)
		}
	}
	sort.SliceStable(out, func(a, b int) bool {
		x, y := v.feet[out[a]], v.feet[out[b]]
		if x.part != y.part {
			return x.part < y.part
		}
		return x.stationM < y.stationM
	})
	return out
}

// usedOn are the used readings of a part, by station.
func (v *view) usedOn(part int) []int {
	from, _ := slices.BinarySearchFunc(v.byPlace, part, func(i, part int) int { return cmp.Compare(v.feet[i].part, part) })
	to, _ := slices.BinarySearchFunc(v.byPlace, part+1, func(i, part int) int { return cmp.Compare(v.feet[i].part, part) })
	return v.byPlace[from:to]
}

// byPart are those of some readings that lie on each part, in their order.
func (v *view) byPart(is []int) [][]int {
	out := make([][]int, len(v.parts))
	for _, i := range is {
		out[v.feet[i].part] = append(out[v.feet[i].part], i)
	}
	return out
}

// spacings is the mean spacing of the used readings on each part.
func (v *view) spacings() []float64 {
	n := make([]float64, len(v.parts))
	for _, i := range v.byPlace {
		n[v.feet[i].part]++
	}
	for k, p := range v.parts {
		n[k] = (p.ToM() - p.FromM()) / max(1, n[k]-1)
	}
	return n
}
