//go:build !race

package jobs

import (
	"log/slog"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/tracetest/spent"
)

// Four people hand in a large layer at the same moment, and make their maps of it: the
// memory that all of it takes stays within the room that the server gives to what is
// read side by side, and no layer takes more than it is reckoned with. Layers and room
// are an eighth of what was measured (80 MB and roomBytes): what they take goes by size.
func TestLayersAtOnceStayWithinTheRoom(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	const size, people, given = 10 << 20, 4, roomBytes / 8
	limits := DefaultLimits
	limits.UploadBytes, limits.FolderBytes = 1<<30, 0
	s, err := OpenStore(filepath.Join(t.TempDir(), "jobs"), "test", limits, trace.DefaultJob(), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	s.room, s.making = newRoom(given), newRoom(given)
	drafts := make([]*Draft, people)
	for i := range drafts {
		if drafts[i], err = s.NewDraft(); err != nil {
			t.Fatal(err)
		}
		if err := drafts[i].Add(KindReference, "town.geojson", spent.Layer(size)); err != nil {
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
		return spent.PeakHeap(func() {
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
	const most = 4 * size
	if peak > most || layerCost*size > given {
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
	if peak > most {
		t.Errorf("making the maps of all takes %d MB, more than %d", peak>>20, most>>20)
	}
}
