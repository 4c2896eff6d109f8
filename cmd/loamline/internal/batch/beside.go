package batch

import (
	"github.com/tidwall/rtree"

	"loamline.example/export/archive"
)

// outM is farther than a traced line comes out of its job's readings: half of the
// longest way without one that is drawn as traced (60 m), a cell of the thinned places,
// and how far readings of a poor fix lie beside their line.
const outM = 75.0

// markBeside marks the jobs so near to one that is made here that their lines may be
// its neighbours.
func (b *run) markBeside() {
	var ground rtree.RTreeGN[float64, int32]
	boxes := make([][]archive.Extent, len(b.jobs))
	for j, w := range b.jobs {
		q := b.about(w)
		q.WithinM = (b.ReachM + outM) / 2 // boxes about cells, two of which meet within twice of it
		c := archive.NewCells(q)
		boxes[j] = c.Boxes(q.Plane, max(len(c.Places), 1))
		for _, e := range boxes[j] {
			if w.ours {
				ground.Insert([2]float64{e.West, e.South}, [2]float64{e.East, e.North}, int32(j))
			}
		}
	}
	for j, w := range b.jobs {
		for _, e := range boxes[j] {
			ground.Search([2]float64{e.West, e.South}, [2]float64{e.East, e.North}, func(_, _ [2]float64, other int32) bool {
				w.beside = other != int32(j)
				return !w.beside
			})
			if w.beside {
				break
			}
		}
	}
}
