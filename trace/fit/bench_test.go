package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"testing"
	"time"
	"unsafe"

	"loamline.example/geo"
	"loamline.example/trace"
)

// longWalk is a walk of n readings 2 m apart over straight runs, elbows and
// bends, with RTK noise and one blunder in fifty.
func longWalk(n int) []reading {
	r := rand.New(rand.NewPCG(5, uint64(n)))
	out := make([]reading, n)
	p, heading, turn := geo.XY{}, 0.0, 0.0
	var gm geo.XY
	for i := range out {
		if i%40 == 0 {
			turn = 0
			switch r.IntN(3) {
			case 0:
				heading += []float64{-1, 1}[r.IntN(2)] * math.Pi / 4
			case 1:
				turn = 0.04 * r.NormFloat64()
			}
			heading = math.Remainder(heading, 2*math.Pi)
			if math.Abs(heading) > 1.2 {
				heading *= 0.5
			}
		}
		heading += turn * 2
		p = p.Add(geo.XY{X: 2 * math.Cos(heading), Y: 2 * math.Sin(heading)})
		gm = gm.Scale(0.9).Add(geo.XY{X: r.NormFloat64(), Y: r.NormFloat64()}.Scale(0.004))
		q := p.Add(gm).Add(geo.XY{X: 0.02 * r.NormFloat64(), Y: 0.02 * r.NormFloat64()})
		if i%50 == 17 {
			q = q.Add(geo.XY{X: 5, Y: 3})
		}
		out[i] = plain(q.X, q.Y)
		out[i].TimeS, out[i].SigmaM, out[i].Fix = float64(10*i), 0.015, 4
		out[i].DepthM = 1.1 + 0.1*math.Sin(float64(i)/30) + 0.03*r.NormFloat64()
	}
	return out
}

// BenchmarkLine shows the growth with the number of readings: the time, the most
// memory at a time beyond the readings themselves (peakB/reading, see watchHeap),
// and how much of that is the result that Line returns (resultB/reading). Few
// readings have several shapes that compete, each with nodes closer together than
// the readings, and tables of a fixed size: there the peak is some megabytes in
// all, however few they are.
func BenchmarkLine(b *testing.B) {
	for _, n := range []int{100, 500, 1000, 10000, 100000, 1000000} {
		in := asRead(longWalk(n))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			if testing.Short() && n > 10000 {
				b.Skip("long")
			}
			b.ReportAllocs()
			peak := watchHeap()
			var res Result
			for b.Loop() {
				var err error
				res, err = Line(context.Background(), in, Options{})
				if err != nil || len(res.Parts) == 0 {
					b.Fatal("no line")
				}
			}
			b.ReportMetric(float64(peak())/float64(n), "peakB/reading")
			b.ReportMetric(float64(sizeOf(res))/float64(n), "resultB/reading")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n)/1000, "µs/reading")
		})
	}
}

// windingWalk is a walk of n readings 2 m apart along a cable laid by eye: no
// straight run and no corner anywhere, so that every stretch is a smooth run.
func windingWalk(n int) []reading {
	r := rand.New(rand.NewPCG(6, uint64(n)))
	out := make([]reading, n)
	p, heading, turn := geo.XY{}, 0.0, 0.0
	for i := range out {
		turn = 0.97*turn + 0.01*r.NormFloat64()
		heading = 0.98*heading + turn
		p = p.Add(geo.XY{X: 2 * math.Cos(heading), Y: 2 * math.Sin(heading)})
		q := p.Add(geo.XY{X: 0.015 * r.NormFloat64(), Y: 0.015 * r.NormFloat64()})
		if i%100 == 17 {
			q = q.Add(geo.XY{X: 4, Y: -3})
		}
		out[i] = plain(q.X, q.Y)
		out[i].TimeS, out[i].SigmaM, out[i].Fix = float64(9*i), 0.015, 4
		out[i].DepthM = 1.1 * (1 + 0.03*r.NormFloat64())
	}
	return out
}

// BenchmarkWinding shows the growth on lines where a fit has most to try.
func BenchmarkWinding(b *testing.B) {
	for _, n := range []int{300, 1000, 3000, 10000} {
		in := asRead(windingWalk(n))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if res, err := Line(context.Background(), in, Options{}); err != nil || len(res.Parts) == 0 {
					b.Fatal("no line")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n)/1000, "µs/reading")
		})
	}
}

// sizeOf is the bytes of a result: its vertices and verdicts.
func sizeOf(res Result) uintptr {
	n := uintptr(0)
	for _, p := range res.Parts {
		n += unsafe.Sizeof(p) + uintptr(len(p.Vertices))*unsafe.Sizeof(trace.Vertex{})
	}
	return n + uintptr(len(res.Verdicts))*unsafe.Sizeof(Verdict{})
}

// watchHeap starts to watch the bytes on the heap, garbage that isn't collected
// yet included, and returns what ends it and tells by how much they rose at
// most. The collector runs at a tenth of growth instead of a doubling, for what
// it has yet to take away is its own choice and no need of the fit; that tenth,
// also of the readings, and what is made while it runs count all the same. Looks
// are a millisecond apart.
func watchHeap() func() uint64 {
	old := debug.SetGCPercent(10)
	runtime.GC()
	live := func() uint64 {
		s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		metrics.Read(s)
		return s[0].Value.Uint64()
	}
	before, most := live(), uint64(0)
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		for tick := time.NewTicker(time.Millisecond); ; {
			select {
			case <-stop:
				tick.Stop()
				return
			case <-tick.C:
				most = max(most, live())
			}
		}
	}()
	return func() uint64 {
		close(stop)
		<-done
		debug.SetGCPercent(old)
		return max(most, before) - before
	}
}
