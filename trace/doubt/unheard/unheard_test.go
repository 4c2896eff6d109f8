package unheard

import (
	"math"
	"math/rand/v2"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// walked is a line of readings 2 m apart, with depth, current and both antennas, of which
// those from one on and up to another are changed.
func walked(n, from, to int, change func(r, before *trace.Reading)) *trace.Line {
	rng := rand.New(rand.NewPCG(7, 1))
	l := &trace.Line{Centerline: &trace.Centerline{Parts: make([]trace.Part, 1)}}
	for i := range n {
		r := trace.NewReading()
		r.Row, r.Status, r.StationM, r.Pos = int32(i+2), trace.StatusUsed, 2*float64(i), geo.XY{X: 2 * float64(i), Y: 0.01 * rng.NormFloat64()}
		show := func(v, share float64) float64 { return math.Round(100*v*(1+share*rng.NormFloat64())) / 100 }
		r.DepthM, r.CurrentMA, r.SignalLow, r.SignalHigh = show(1.1, 0.03), show(80, 0.02), show(20, 0.02), show(14, 0.02)
		l.Readings = append(l.Readings, r)
		l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: r.Pos, StationM: r.StationM})
	}
	for i := from; i < to; i++ {
		change(&l.Readings[i], &l.Readings[max(0, i-1)])
	}
	return l
}

func none(r, _ *trace.Reading) {
	r.DepthM, r.CurrentMA, r.SignalLow, r.SignalHigh = trace.Unknown, trace.Unknown, trace.Unknown, trace.Unknown
}

func zeros(r, _ *trace.Reading) { r.DepthM, r.CurrentMA, r.SignalLow, r.SignalHigh = 0, 0, 0, 0 }

func before(r, b *trace.Reading) {
	r.DepthM, r.CurrentMA, r.SignalLow, r.SignalHigh = b.DepthM, b.CurrentMA, b.SignalLow, b.SignalHigh
}

func said(note string) func(r, _ *trace.Reading) { return func(r, _ *trace.Reading) { r.Note = note } }

func TestDoubts(t *testing.T) {
	only := func(keep func(r *trace.Reading)) func(l *trace.Line) {
		return func(l *trace.Line) {
			for i := range l.Readings {
				keep(&l.Readings[i])
			}
		}
	}
	depthAlone := only(func(r *trace.Reading) {
		r.CurrentMA, r.SignalLow, r.SignalHigh = trace.Unknown, trace.Unknown, trace.Unknown
	})
	for _, c := range []struct {
		what     string
		from, to int
		change   func(r, b *trace.Reading)
		then     func(l *trace.Line)
		told     *remark.Unheard // nil: nothing
	}{
		{"all heard", 0, 0, nil, nil, nil},
		{"blank underway", 10, 15, none, nil, &remark.Unheard{N: 5, FromRow: 12, ToRow: 16}},
		{"blank to the end", 24, 30, none, nil, &remark.Unheard{N: 6, FromRow: 26, ToRow: 31}},
		{"zeros for most of the walk", 12, 30, zeros, nil, &remark.Unheard{N: 18, FromRow: 14, ToRow: 31}},
		{"blank at one reading", 10, 11, none, nil, nil},
		{"depths blank, the rest heard", 10, 15, func(r, _ *trace.Reading) { r.DepthM = trace.Unknown }, nil, nil},
		{"blank, of depths alone", 10, 15, none, depthAlone, &remark.Unheard{N: 5, FromRow: 12, ToRow: 16}},
		{"depths at every fifth reading", 0, 30, func(r, _ *trace.Reading) {
			if r.Row%5 != 0 {
				r.DepthM = trace.Unknown
			}
		}, depthAlone, nil},
		{"depths that were left out", 10, 15, func(r, _ *trace.Reading) {
			r.DepthM = trace.Unknown
			r.DropDepth(remark.TenfoldDepth{})
		}, depthAlone, nil},
		{"held", 10, 16, before, nil, &remark.Unheard{N: 6, FromRow: 12, ToRow: 17, Held: true}},
		{"depths that stay, the rest heard", 10, 16, func(r, b *trace.Reading) { r.DepthM = b.DepthM }, nil, nil},
		{"one and the same throughout", 1, 30, before, nil, nil},
		{"noted", 10, 11, said("lost signal"), nil, &remark.Unheard{N: 1, FromRow: 12, ToRow: 12, Noted: true, Note: "lost signal"}},
		{"noted in Spanish", 10, 12, said("sin señal"), nil, &remark.Unheard{N: 2, FromRow: 12, ToRow: 13, Noted: true, Note: "sin señal"}},
		{"a note of something else", 10, 12, said("strong signal, no traffic"), nil, nil},
		{"found again aside and deeper", 10, 15, none, func(l *trace.Line) {
			for i := 15; i < 30; i++ {
				l.Readings[i].Pos.Y -= 1.5
				l.Readings[i].DepthM *= 1.3
			}
		}, &remark.Unheard{N: 5, FromRow: 12, ToRow: 16, AsideM: 1.5}},
		{"found again aside, as deep", 10, 15, none, func(l *trace.Line) {
			for i := 15; i < 30; i++ {
				l.Readings[i].Pos.Y -= 1.5
			}
		}, &remark.Unheard{N: 5, FromRow: 12, ToRow: 16}},
	} {
		l := walked(30, c.from, c.to, c.change)
		if c.then != nil {
			c.then(l)
		}
		got := Doubts(l, func(*trace.Reading) float64 { return 0.015 })
		if c.told == nil {
			if len(got) > 0 {
				t.Errorf("%s: told %+v", c.what, got)
			}
			continue
		}
		if len(got) != 1 {
			t.Errorf("%s: told %d times", c.what, len(got))
			continue
		}
		d := got[0].(finding.Doubt)
		why := d.Why.(remark.Unheard)
		if math.Abs(why.AsideM-c.told.AsideM) > 0.1 {
			t.Errorf("%s: told %.2f m aside, want %.2f", c.what, why.AsideM, c.told.AsideM)
		}
		toM := math.Min(58, 2*float64(c.to))
		if why.AsideM != 0 {
			toM = 58
		}
		if why.AsideM = c.told.AsideM; why != *c.told {
			t.Errorf("%s: told %+v, want %+v", c.what, why, *c.told)
		}
		if math.Abs(d.FromM-2*float64(c.from-1)) > 0.1 || math.Abs(d.ToM-toM) > 0.1 {
			t.Errorf("%s: told from %.1f to %.1f m, want %.1f to %.1f", c.what, d.FromM, d.ToM, 2*float64(c.from-1), toM)
		}
	}
}

// A note counts that speaks of the signal or of the place here, and none that speaks of
// something else.
func TestNotes(t *testing.T) {
	for _, note := range []string{
		"lost signal", "Lost the signal here", "no signal", "No signal past the hydrant", "no tone", "no trace", "lost trace", "signal lost", "signal was lost at the fence",
		"tone gone", "signal dropped out", "signal loss", "no signal due to traffic loop", "strong before, then no signal", "no signal, parked car",
		"assumed", "guess", "best guess", "interpolated", "interpolated between the last two", "extrapolated", "position assumed", "line position assumed", "location guessed",
		"assumed location", "line assumed straight", "route interpolated under car", "not traced", "not traced beyond here", "not traced past manhole 3", "interpolated between 12 and 14", "not located", "not heard", "line not heard",
		"could not trace", "could not locate line", "unable to trace further", "can't trace here", "under parked car, guessed", "dead end, not traced",
		"PVC; position assumed", "depth 1.2, no signal",
		"sin señal", "sin señal aquí", "se pierde la señal", "señal perdida", "no hay señal", "supuesto", "posición supuesta", "trazado interpolado", "no localizado", "línea no localizada",
		"kein Signal", "Kein Signal mehr", "Signal verloren", "ohne Signal", "angenommen", "Lage angenommen", "Verlauf vermutet", "nicht geortet",
		"pas de signal", "aucun signal ici", "signal perdu", "perte de signal", "position supposée", "tracé supposé", "interpolé", "non localisé",
	} {
		if !saysSo(note) {
			t.Errorf("%q is taken for nothing", note)
		}
	}
	for _, note := range []string{
		"", "strong signal, no traffic", "material assumed PVC", "no trace wire", "no signal interference", "traced, not guessed", "valve not located",
		"assumed PVC", "assumed: PVC", "assumed to be steel", "PVC (assumed)", "assumed, steel", "size assumed 100 mm", "depth assumed", "depth interpolated", "owner assumed", "line assumed PVC", "assumed line size",
		"valve location assumed", "manhole not located", "could not locate valve", "could not hear owner", "no trace of gas", "no tracer wire", "no tone generator",
		"no signal loss", "no signal lost", "signal not lost", "signal never lost", "never lost signal", "without signal loss", "without loss of signal", "signal dropped 10 dB", "signal dropped by half", "signal strength good",
		"no signal from other lines", "no signal on adjacent line", "no signal at 8 kHz", "no signal problems", "position not assumed", "not interpolated", "not assumed", "heard, not assumed",
		"sin señal de interferencia", "sin señalización", "sin pérdida de señal", "material supuesto PVC", "profundidad supuesta", "válvula no localizada", "no supuesto",
		"keine Signalstörung", "Material angenommen PVC", "Tiefe angenommen", "Schieber nicht geortet", "nicht angenommen", "kein Signalüberlagerung",
		"pas de signal parasite", "matériau supposé PVC", "profondeur interpolée", "vanne non localisée", "sans perte de signal",
	} {
		if saysSo(note) {
			t.Errorf("%q is taken for a signal that was lost or a place that was guessed", note)
		}
	}
}

// Notes on many rows are few stretches: some rows apart they are one, of more stretches than
// anybody looks at each is told among the others, and of ever so many the line is in doubt
// from the first to the last.
func TestManyNotes(t *testing.T) {
	for _, c := range []struct {
		every, rows, told int
		among             bool
		n                 int // readings of the first
	}{{2, 3000, 1, false, 1500}, {4, 3000, 1, false, 750}, {5, 3000, 1, false, 600}, {100, 3000, 30, true, 1}, {100, 300, 3, false, 1}} {
		l := walked(c.rows, 0, 0, nil)
		for i := 0; i < c.rows; i += c.every {
			l.Readings[i].Note = "lost signal"
		}
		got := Doubts(l, func(*trace.Reading) float64 { return 0.015 })
		if len(got) != c.told {
			t.Errorf("every %dth of %d: told %d times, want %d", c.every, c.rows, len(got), c.told)
			continue
		}
		d := got[0].(finding.Doubt)
		if why := d.Why.(remark.Unheard); why.N != c.n || (d.Among != nil) != c.among {
			t.Errorf("every %dth of %d: told of %d readings, among others %v, want %d and %v", c.every, c.rows, why.N, d.Among != nil, c.n, c.among)
		}
	}
}

// A receiver that held all of its figures is told once, as a line that may lie elsewhere; one
// whose depth alone stays, or stays for longer, is told of its depths too.
func TestHeldIsToldOnce(t *testing.T) {
	for _, c := range []struct {
		what       string
		hold       func(r, b *trace.Reading)
		depthsFrom int // whose depth stays before all of them do
		told, left int
	}{
		{"all held", before, 20, 1, 0},
		{"the depth alone", func(r, b *trace.Reading) { r.DepthM = b.DepthM }, 20, 0, 1},
		{"the depth for longer", before, 14, 1, 1},
	} {
		l := walked(60, 20, 30, c.hold)
		for i := c.depthsFrom; i < 30; i++ {
			l.Readings[i].DepthM = l.Readings[c.depthsFrom-1].DepthM
		}
		for i := range l.Readings {
			l.Readings[i].Status = ""
		}
		var advised []trace.Advice
		for _, found := range clean.Contradictions(trace.Trace{Readings: l.Readings}, trace.Unknown, []trace.Input{{}}) {
			advised = append(advised, found.Advice...)
		}
		for i := range l.Readings {
			l.Readings[i].Status = trace.StatusUsed
		}
		if len(advised) != 1 {
			t.Fatalf("%s: advised %+v", c.what, advised)
		}
		found := Doubts(l, func(*trace.Reading) float64 { return 0.015 })
		if left := ButFrozen(advised, found); len(found) != c.told || len(left) != c.left {
			t.Errorf("%s: told %d times and %d of the depths, want %d and %d", c.what, len(found), len(left), c.told, c.left)
		}
	}
}
