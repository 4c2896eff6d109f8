//go:build !race

package jobs

import (
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"strings"
	"sync"
	"testing"
	"time"

	"loamline/trace"
)

// bigLayer writes a GeoJSON layer of a county's lines, of so many bytes, and opens it.
func bigLayer(t *testing.T, bytes int) *os.File {
	t.Helper()
	f, err := os.Create(filepath.Join(t.TempDir(), "town.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	var b strings.Builder
	b.WriteString(`{"type":"FeatureCollection","features":[`)
	for n := 0; b.Len() < bytes; n++ {
		if n > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, `{"type":"Feature","properties":{"asset_id":"main %d","material":"ductile iron","remarks":"as handed over by the owner, not surveyed"},"geometry":{"type":"LineString","coordinates":[`, n)
		for k := range 8 {
			if k > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, "[%.9f,%.9f]", -30.5+float64(n%1000)*1e-4+float64(k)*1e-5, 44.1+float64(n/1000)*1e-3)
		}
		b.WriteString("]}}")
	}
	b.WriteString("]}")
	if _, err := f.WriteString(b.String()); err != nil {
		t.Fatal(err)
	}
	return f
}

// peakHeap is by how much the heap grows at most while something is done, garbage that
// is not yet collected included.
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

// Four people hand in a layer of 80 MB at the same moment, and make their maps of it:
// the memory that all of it takes stays within the room that the server gives to what
// is read side by side, and no layer takes more than it is reckoned with.
func TestLayersAtOnceStayWithinTheRoom(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	const size, people = 80 << 20, 4
	layer := bigLayer(t, size)
	limits := DefaultLimits
	limits.UploadBytes, limits.FolderBytes = 1<<30, 0
	s, err := OpenStore(filepath.Join(t.TempDir(), "jobs"), "test", limits, trace.DefaultJob(), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	drafts := make([]*Draft, people)
	for i := range drafts {
		if drafts[i], err = s.NewDraft(); err != nil {
			t.Fatal(err)
		}
		if _, err := layer.Seek(0, 0); err != nil {
			t.Fatal(err)
		}
		if err := drafts[i].Add(KindReference, "town.geojson", layer); err != nil {
			t.Fatal(err)
		}
		if err := drafts[i].Add(KindTrace, "walk.csv", strings.NewReader(smallTrace)); err != nil {
			t.Fatal(err)
		}
		if err := drafts[i].Add(KindJob, "job.toml", strings.NewReader("datum = \"WGS84\"\n")); err != nil {
			t.Fatal(err)
		}
	}
	handed := make([]Job, people)
	side := func(work func(i int)) int64 {
		return peakHeap(func() {
			var wg sync.WaitGroup
			for i := range people {
				wg.Go(func() { work(i) })
			}
			wg.Wait()
		})
	}
	peak := side(func(i int) {
		var err error
		if handed[i], err = drafts[i].Commit(t.Context()); err != nil {
			t.Error(err)
		}
	})
	// Each is reckoned with more than half the room, so that they are read one after the
	// other: less than four times one's size, where the four at once take six times that.
	if most := int64(4 * size); peak > most || layerCost*size > roomBytes {
		t.Errorf("handing in %d layers of %d MB takes %d MB, more than %d", people, size>>20, peak>>20, most>>20)
	}
	if peak < size/4 {
		t.Errorf("%d MB: nothing was read, or the test does not see it", peak>>20)
	}
	m := NewMaker(s, MakerOptions{AtOnce: people})
	defer m.Close()
	peak = side(func(i int) {
		if _, err := m.Ask(t.Context(), handed[i].ID, handed[i].Revision, handed[i].Settings); err != nil {
			t.Error(err)
			return
		}
		if r := waitDone(t, s, handed[i].ID); r.State != StateDone {
			t.Errorf("%+v", r.Problem)
		}
	})
	if peak > roomBytes {
		t.Errorf("making the maps of all takes %d MB, more than the %d that are given to what is read side by side", peak>>20, roomBytes>>20)
	}
}
