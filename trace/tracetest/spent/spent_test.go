package spent

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"math"
	"testing"
)

var kept [][]byte

// What is measured is what was asked for: megabyte by megabyte, ended at a third.
func TestAfter(t *testing.T) {
	const pieces = 300
	work := func(heed bool) func(context.Context) error {
		return func(ctx context.Context) error {
			for range pieces {
				if heed && ctx.Err() != nil {
					return context.Cause(ctx)
				}
				kept = append(kept[:0], make([]byte, 1<<20))
			}
			return nil
		}
	}
	all, after, err := After(math.MaxUint64, nil, work(true))
	if err != nil || all < pieces<<20 || all > (pieces+20)<<20 || after != 0 {
		t.Errorf("%d and %d bytes, %v", all, after, err)
	}
	why := errors.New("enough")
	if all, _, err := After(pieces<<20/3, why, work(true)); err != nil && (!errors.Is(err, why) || all < pieces<<20/3) {
		t.Errorf("%d bytes, %v", all, err)
	}
	if all, after, err := After(1, why, work(false)); err != nil || after > all {
		t.Errorf("%d and %d bytes, %v", all, after, err)
	}
}

func TestPeakHeap(t *testing.T) {
	defer func() { kept = nil }()
	if got := PeakHeap(func() { kept = append(kept[:0], make([]byte, 64<<20)) }); got < 63<<20 || got > 80<<20 {
		t.Errorf("%d bytes for 64 MB", got)
	}
}

// The layer is GeoJSON of the size that was asked for.
func TestLayer(t *testing.T) {
	const size = 1 << 20
	text, err := io.ReadAll(Layer(size))
	if err != nil || len(text) < size || len(text) > size+2000 {
		t.Fatalf("%d bytes, %v", len(text), err)
	}
	var c struct {
		Type     string
		Features []struct {
			Geometry struct{ Coordinates [][2]float64 }
		}
	}
	if err := json.Unmarshal(text, &c); err != nil || c.Type != "FeatureCollection" || len(c.Features) < 1000 || len(c.Features[7].Geometry.Coordinates) != 8 {
		t.Errorf("%s of %d, %v", c.Type, len(c.Features), err)
	}
}
