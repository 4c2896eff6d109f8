package intake

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"runtime/metrics"
	"strings"
	"testing"
	"time"
)

// layerStream is a GeoJSON layer of many short lines, made while it is read, so that
// nothing of it is in memory but what the reader keeps.
type layerStream struct {
	bytes, sent int64
	n           int
	rest        string
	ended       bool
}

// Read implements io.Reader.
func (l *layerStream) Read(p []byte) (int, error) {
	if l.rest == "" {
		switch {
		case l.n == 0:
			l.rest = `{"type":"FeatureCollection","features":[`
		case l.ended:
			return 0, io.EOF
		case l.sent >= l.bytes:
			l.rest, l.ended = "]}", true
		default:
			l.rest = lineText(l.n)
		}
		l.n++
	}
	n := copy(p, l.rest)
	l.rest, l.sent = l.rest[n:], l.sent+int64(n)
	return n, nil
}

// lineText is a line of eight corners with the properties that a town's layer has.
func lineText(n int) string {
	var b strings.Builder
	if n > 1 {
		b.WriteByte(',')
	}
	fmt.Fprintf(&b, `{"type":"Feature","properties":{"asset_id":"main %d","depth_m":1.2,"material":"ductile iron","laid":"1974-05-01","remarks":"as handed over by the owner, not surveyed"},"geometry":{"type":"LineString","coordinates":[`, n)
	for k := range 8 {
		if k > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "[%.9f,%.9f]", -30.5+float64(n%1000)*1e-4+float64(k)*1e-5, 44.1+float64(n/1000)*1e-3)
	}
	b.WriteString("]}}")
	return b.String()
}

// peakHeap is by how much the heap grows at most while something is done, garbage that
// is not yet collected included: what the machine has to have. It is asked for several
// hundred times a second.
func peakHeap(work func()) int64 {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	now := func() int64 { metrics.Read(sample); return int64(sample[0].Value.Uint64()) }
	runtime.GC()
	before, peak := now(), int64(0)
	done, ended := make(chan bool), make(chan bool)
	go func() {
		defer close(ended)
		for {
			select {
			case <-done:
				return
			case <-time.After(2 * time.Millisecond):
				peak = max(peak, now()-before)
			}
		}
	}()
	work()
	close(done)
	<-ended
	return max(peak, now()-before)
}

// mostLayerCost is how many bytes of memory a byte of a layer may take while it is read
// (the README's bounds; the server reckons with twice as many).
const mostLayerCost = 3

// A layer of 80 MB, nearly all of it lines, takes a few times its size and gives it
// back.
func TestLayerTakesAFewTimesItsSize(t *testing.T) {
	const size = 80 << 20
	before := heapBytes()
	peak := peakHeap(func() {
		f := File{Name: "town.geojson", Size: size, Open: func() (io.ReadCloser, error) { return io.NopCloser(&layerStream{bytes: size}), nil }}
		if err := CheckReference(context.Background(), ReferenceFile{File: f}); err != nil {
			t.Error(err)
		}
	})
	if peak > mostLayerCost*size {
		t.Errorf("a layer of %d MB takes %d MB, more than %d times its size", size>>20, peak>>20, mostLayerCost)
	}
	if peak < size/4 {
		t.Errorf("%d MB for a layer of %d MB: the lines were not read, or the test does not see it", peak>>20, size>>20)
	}
	if kept := heapBytes() - before; kept > size/20 {
		t.Errorf("%d MB are kept", kept>>20)
	}
}
