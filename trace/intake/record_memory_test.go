package intake

import (
	"context"
	"io"
	"testing"

	"loamline.example/trace/tracetest/spent"
)

// mostLayerCost is how many bytes of memory a byte of a layer may take while it is read
// (the README's bounds; the server reckons with twice as many).
const mostLayerCost = 3

// A layer of 40 MB, nearly all of it lines, takes a few times its size and gives it
// back.
func TestLayerTakesAFewTimesItsSize(t *testing.T) {
	const size = 40 << 20
	before := heapBytes()
	peak := spent.PeakHeap(func() {
		f := File{Name: "town.geojson", Size: size, Open: func() (io.ReadCloser, error) { return io.NopCloser(spent.Layer(size)), nil }}
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
