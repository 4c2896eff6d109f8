package batch

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/tidwall/rtree"

	"loamline.example/export/archive"
	"loamline.example/geo"
	"loamline.example/trace"
)

// index finds the lines of a batch's jobs by place, in degrees.
type index struct {
	tree rtree.RTreeGN[float64, int32]
	jobs []*work
	line []indexed
}

type indexed struct{ job, line int32 }

// newIndex takes the lines of every job of which they are known.
func newIndex(jobs []*work) *index {
	ix := &index{jobs: jobs}
	for j, w := range jobs {
		for l := range w.fitted.Lines {
			lo, hi := boxOf(w.fitted.Lines[l].Path)
			if hi[0]-lo[0] > 180 { // across the antimeridian: looked at wherever it is asked for
				lo[0], hi[0] = -180, 180
			}
			ix.tree.Insert(lo, hi, int32(len(ix.line)))
			ix.line = append(ix.line, indexed{int32(j), int32(l)})
		}
	}
	return ix
}

func boxOf(path []geo.LonLat) (lo, hi [2]float64) {
	lo, hi = [2]float64{180, 90}, [2]float64{-180, -90}
	for _, p := range path {
		lo[0], lo[1] = min(lo[0], p.LonDeg), min(lo[1], p.LatDeg)
		hi[0], hi[1] = max(hi[0], p.LonDeg), max(hi[1], p.LatDeg)
	}
	return lo, hi
}

// near returns the lines of other jobs that come near a job, in the order of jobs
// and lines. A job that shares readings with it is the same trace in part, and no
// neighbour.
func (ix *index) near(w *work, q archive.NearQuery) []trace.Record {
	c := archive.NewCells(q)
	var hits []int32
	for _, e := range c.Extents(q.Plane) {
		ix.tree.Search([2]float64{e.West, e.South}, [2]float64{e.East, e.North}, func(_, _ [2]float64, k int32) bool {
			hits = append(hits, k)
			return true
		})
	}
	slices.Sort(hits)
	self := archive.NewIdentities(w.fitted.Identity)
	var candidates []archive.Line
	for _, k := range slices.Compact(hits) {
		other := ix.jobs[ix.line[k].job]
		if other != w && !self.Share(other.fitted.Identity) {
			candidates = append(candidates, other.fitted.Lines[ix.line[k].line])
		}
	}
	return archive.NearRecords(q, c, candidates)
}

// about asks for what comes near a job.
func (b *run) about(w *work) archive.NearQuery {
	return archive.NearQuery{Plane: geo.NewPlane(w.fitted.Origin), Places: w.fitted.Places, WithinM: b.ReachM}
}

// neighbors are the lines of the batch and of the archive near a job. The archive
// is not asked for jobs of the batch: those are as they are in the batch, whether
// or not they have been kept by now.
func (b *run) neighbors(ctx context.Context, w *work) ([]trace.Record, error) {
	q := b.about(w)
	near := b.index.near(w, q)
	if b.Archive == nil {
		return near, nil
	}
	q.Except = b.ours
	b.archive.Lock()
	defer b.archive.Unlock()
	kept, err := b.Archive.Near(ctx, q)
	return append(near, kept...), err
}

// recordsPrint is the fingerprint of neighbours.
func recordsPrint(records []trace.Record) string {
	var s strings.Builder
	for _, r := range records {
		fmt.Fprintf(&s, "%q %q %q %v %v %v %q %v\n", r.Name, r.Source, r.Utility, r.Path, r.DepthM, r.DoubtM, r.DoubtWhy, r.FrameDoubtM)
	}
	return fingerprint(s.String())
}
