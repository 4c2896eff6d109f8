package cases

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"loamline.example/geo"
)

// bench is a locate in the making: lines are buried, walked over, and written
// down.
type bench struct {
	rng   *rand.Rand
	plane geo.Plane
	rows  []row
	truth Truth
	or    []Truth
	gear  gear
	sheet sheet
	clock float64 // seconds since the first morning
}

// gear is what the locator carries.
type gear struct {
	noiseM     float64 // of positions, one sigma per axis, white
	fix        int     // 0 for none written
	statedM    float64 // horizontal accuracy as written; NaN for none
	antennas   bool    // two signals are written
	gapM       float64
	depth      bool
	current    bool
	null       bool
	elev       bool
	depthNoise float64 // relative, one sigma
	depthScale float64 // what the receiver makes of a true depth
	offset     geo.XY  // constant error of the positions
	coil       float64 // moment of an induction transmitter, 0 for none
	coilAt     geo.XY
	stepS      float64 // seconds between readings
}

// row is one reading as it was taken; NaN is not written.
type row struct {
	line                       string
	timeS                      float64
	shown                      geo.XY
	stood                      geo.XY
	fix                        int
	statedM, depthM, currentMA float64
	low, high, nullM, elevM    float64
	exposed                    bool
	freqHz                     float64 // 0 is not written
	hookup                     string  // "" is not written
}

// origin of all cases: open country, no place of work.
var origin = geo.LonLat{LonDeg: -71.5, LatDeg: 44.1}

const (
	groundM   = 240.0
	currentMA = 60.0
)

// newBench starts a case with RTK of 1.2 cm, stated as 1.5, and depths to 3 %.
func newBench(name string, seed uint64) *bench {
	h := fnv.New64a()
	h.Write([]byte(name))
	return &bench{
		rng:   rand.New(rand.NewPCG(h.Sum64(), seed)),
		plane: geo.NewPlane(origin),
		gear: gear{noiseM: 0.012, fix: 4, statedM: 0.015, gapM: 0.4, depth: true,
			depthNoise: 0.03, depthScale: 1, stepS: 8},
		sheet: sheet{decimals: 9},
	}
}

// buried is a line in the plane with the depth of its centre.
type buried struct {
	name  string
	path  geo.Polyline
	depth func(stationM float64) float64
}

// bury puts a line into the ground and into the truth.
func (b *bench) bury(name string, path []geo.XY, depth func(float64) float64) buried {
	l := buried{name, geo.NewPolyline(path), depth}
	t := TrueLine{Name: name, GroundM: unknown}
	if b.gear.elev {
		t.GroundM = groundM
	}
	// Fine enough that a ramp of depth is kept.
	n := max(1, int(math.Ceil(l.path.Length()/0.5)))
	stations := make([]float64, 0, n+len(path))
	for i := range path {
		if i > 0 {
			a, z := l.path.Station(i-1), l.path.Station(i)
			for k := 1; k < int(math.Ceil((z-a)/0.5)); k++ {
				stations = append(stations, a+(z-a)*float64(k)/math.Ceil((z-a)/0.5))
			}
		}
		stations = append(stations, l.path.Station(i))
	}
	for _, s := range stations {
		t.Path = append(t.Path, b.plane.LonLat(l.path.At(s)))
		if b.gear.depth || b.gear.antennas {
			t.DepthM = append(t.DepthM, depth(s))
		}
	}
	b.truth.Lines = append(b.truth.Lines, t)
	return l
}

func flat(d float64) func(float64) float64 { return func(float64) float64 { return d } }

func (b *bench) norm(sigma float64) float64 { return sigma * b.rng.NormFloat64() }

// read takes one reading over a line at a station; aside is how far right of it
// the receiver stands.
func (b *bench) read(l buried, stationM, aside float64) *row {
	d := l.path.Direction(stationM)
	right := geo.XY{X: d.Y, Y: -d.X}
	return b.readAt(l.name, l.path.At(stationM).Add(right.Scale(aside)), l.depth(stationM))
}

// readAt takes one reading at a place above a conductor at some depth.
func (b *bench) readAt(line string, at geo.XY, depthM float64) *row {
	g := b.gear
	r := row{line: line, timeS: b.clock, stood: at, fix: g.fix, statedM: g.statedM,
		depthM: unknown, currentMA: unknown, low: unknown, high: unknown, nullM: unknown, elevM: unknown}
	r.shown = at.Add(g.offset).Add(geo.XY{X: b.norm(g.noiseM), Y: b.norm(g.noiseM)})
	b.signals(&r, depthM, currentMA)
	if g.null {
		r.nullM = b.norm(0.015)
	}
	if g.elev {
		r.elevM = groundM + b.norm(0.02)
	}
	b.clock += g.stepS
	b.truth.Read = append(b.truth.Read, Place{line, b.plane.LonLat(at), unknown})
	b.rows = append(b.rows, r)
	return &b.rows[len(b.rows)-1]
}

// signals writes what the receiver shows of a current at a depth: the field of
// a long straight current at both antennas, and that of a coil nearby.
func (b *bench) signals(r *row, depthM, mA float64) {
	g := b.gear
	low, high := mA/depthM, mA/(depthM+g.gapM)
	if g.coil > 0 {
		far := r.stood.Dist(g.coilAt)
		low += g.coil / math.Pow(far*far+0.2*0.2, 1.5)
		high += g.coil / math.Pow(far*far+(0.2+g.gapM)*(0.2+g.gapM), 1.5)
	}
	low *= 1 + b.norm(0.004)
	high *= 1 + b.norm(0.004)
	// The receiver's own depth and current are those of its two antennas.
	shown := depthM
	if g.coil > 0 {
		shown = min(g.gapM/max(low/high-1, 0.004), 99)
	}
	if g.depth {
		r.depthM = shown * g.depthScale * (1 + b.norm(g.depthNoise))
	}
	if g.antennas {
		r.low, r.high = low, high
	}
	if g.current {
		r.currentMA = low * shown * (1 + b.norm(0.02))
	}
}

// walk reads a line from one station to another in steps; backwards where from
// is beyond to.
func (b *bench) walk(l buried, fromM, toM, stepM float64) []*row {
	return b.walkAside(l, fromM, toM, stepM, 0)
}

// walkAside walks beside the line, at a distance to its right.
func (b *bench) walkAside(l buried, fromM, toM, stepM, aside float64) []*row {
	n := int(math.Round(math.Abs(toM-fromM) / stepM))
	first := len(b.rows)
	for i := 0; i <= n; i++ {
		b.read(l, fromM+(toM-fromM)*float64(i)/float64(max(n, 1)), aside)
	}
	return b.since(first)
}

// since are the rows from one on.
func (b *bench) since(first int) []*row {
	var out []*row
	for i := first; i < len(b.rows); i++ {
		out = append(out, &b.rows[i])
	}
	return out
}

// stand reads one place again and again, once a second.
func (b *bench) stand(l buried, stationM float64, seconds int) {
	step := b.gear.stepS
	b.gear.stepS = 1
	for range seconds {
		b.read(l, stationM, 0)
	}
	b.gear.stepS = step
}

// expose measures the line where it lies.
func (b *bench) expose(l buried, stationM float64) {
	at, d := l.path.At(stationM), l.depth(stationM)
	b.truth.Exposed = append(b.truth.Exposed, Place{l.name, b.plane.LonLat(at), d})
	was := b.gear
	b.gear = gear{noiseM: 0.01, fix: 4, statedM: 0.015, depth: was.depth, elev: was.elev, depthScale: 1, depthNoise: 0.01, gapM: was.gapM, stepS: 60}
	b.read(l, stationM, 0).exposed = true
	b.gear = was
}

// exposeShallow does so, with a depth that is noted too small.
func (b *bench) exposeShallow(l buried, stationM, byM float64) {
	b.expose(l, stationM)
	b.rows[len(b.rows)-1].depthM -= byM
}

// orAside adds the truth that all lines lie aside of where they do, to the
// north by some distance.
func (b *bench) orAside(northM float64) { b.or = append(b.or, b.truth.Moved(northM)) }

// orPath adds the truth that the one line runs elsewhere, at the depth that it
// has at its start.
func (b *bench) orPath(path []geo.XY) {
	t := b.truth
	l := t.Lines[0]
	depthM := l.DepthM[0]
	l.Path, l.DepthM = nil, nil
	for _, p := range path {
		l.Path, l.DepthM = append(l.Path, b.plane.LonLat(p)), append(l.DepthM, depthM)
	}
	t.Lines = []TrueLine{l}
	b.or = append(b.or, t)
}

// nextDay starts another morning.
func (b *bench) nextDay() { b.clock = (math.Floor(b.clock/86400) + 1) * 86400 }

// caseOf writes everything down.
func (b *bench) caseOf(name, shows string) Case {
	return Case{Name: name, Shows: shows, Table: b.table(), Job: b.jobFile(), Truth: b.truth, Or: b.or}
}
