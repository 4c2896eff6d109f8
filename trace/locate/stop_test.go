package locate

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync/atomic"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Once the context has ended no further line is begun: of sixty lines those in hand
// may be finished, one a core.
func TestBuildEndsWithTheLinesInHand(t *testing.T) {
	const lines = 60
	var rs []trace.Reading
	for l := range lines {
		for i := range 40 {
			r := trace.NewReading()
			r.Line, r.Row, r.HAccM, r.Fix, r.DepthM = fmt.Sprintf("W-%d", l), int32(len(rs)+2), 0.02, 4, 1
			r.Geographic = geo.LonLat{LonDeg: -30.5 + 4e-4*float64(l) + 2e-7*math.Sin(float64(7*i+l)), LatDeg: 44.1 + 1.5e-5*float64(i)}
			rs = append(rs, r)
		}
	}
	for _, at := range []int{1, 7, 30} {
		ctx, stop := context.WithCancel(context.Background())
		var after atomic.Int64
		src := trace.Source{Name: "a", Job: trace.DefaultJob(), Readings: append([]trace.Reading(nil), rs...), Inputs: []trace.Input{{Name: "a.csv"}}}
		src.Progress = func(done, total int) {
			if ctx.Err() != nil {
				after.Add(1)
			}
			if done == at {
				stop()
			}
		}
		if _, err := Build(ctx, src); !errors.Is(err, context.Canceled) {
			t.Errorf("ended after line %d: %v", at, err)
		}
		if most := int64(runtime.GOMAXPROCS(0)); after.Load() > most {
			t.Errorf("ended after line %d, %d lines are finished all the same, where %d were in hand", at, after.Load(), most)
		}
		stop()
	}
}
