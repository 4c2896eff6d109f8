package intake

import (
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"unsafe"

	"loamline.example/trace"
)

// wideRows is a table whose rows are mostly of a column that nothing is read from,
// made while it is read.
type wideRows struct {
	rows, row int
	rest      string
}

// Read implements io.Reader.
func (w *wideRows) Read(p []byte) (int, error) {
	if w.rest == "" {
		switch {
		case w.row == 0:
			w.rest = "lat,lon,depth_m,remarks of the crew\n"
		case w.row > w.rows:
			return 0, io.EOF
		default:
			w.rest = fmt.Sprintf("%.7f,-30.5,1.%02d,%s\n", 44.1+1e-6*float64(w.row), w.row%100, strings.Repeat("x", 1000))
		}
		w.row++
	}
	n := copy(p, w.rest)
	w.rest = w.rest[n:]
	return n, nil
}

func heapBytes() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// A table of 20 MB leaves its readings in memory and nothing of the file.
func TestTableIsNotKept(t *testing.T) {
	const rows = 20_000
	before := heapBytes()
	table, err := ReadTable(&wideRows{rows: rows}, "wide.csv", 0, TableOptions{Bytes: rows * 1030})
	if err != nil || len(table.Readings) != rows {
		t.Fatalf("%v, %d readings", err, len(table.Readings))
	}
	kept, needed := heapBytes()-before, int64(rows*unsafe.Sizeof(trace.Reading{}))
	if kept > needed*5/4 {
		t.Errorf("%d bytes are kept; the readings need %d", kept, needed)
	}
	runtime.KeepAlive(table)
}
