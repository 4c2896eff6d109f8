package batch

import (
	"context"
	"errors"
	"fmt"

	"github.com/tidwall/rtree"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/locate"
)

// Shard is a part of a batch that one of several programs makes; the zero value is
// all of it. Programs need not know of each other: what a program's jobs have of
// the jobs of others, it works out itself.
type Shard struct{ Part, Of int }

// ParseShard reads "0/4"; the empty text is all of the batch.
func ParseShard(text string) (Shard, error) {
	var s Shard
	if text == "" {
		return s, nil
	}
	var more string
	if n, _ := fmt.Sscanf(text, "%d/%d%s", &s.Part, &s.Of, &more); n != 2 || s.Part < 0 || s.Part >= s.Of {
		return Shard{}, errors.New("it is PART/OF, with parts from 0 to one less than OF, such as 0/4, 1/4, 2/4 and 3/4")
	}
	return s, nil
}

// Name tells the parts' files apart.
func (s Shard) Name() string {
	if s.Of == 0 {
		return ""
	}
	return fmt.Sprintf("-%d-of-%d", s.Part, s.Of)
}

// share parts the jobs. They stay in their order, in which those of one folder
// stand together and mostly lie together too, and each part has as much to read as
// the next.
func (s Shard) share(jobs []*work) (ours, others []*work) {
	var all, before int64
	for _, w := range jobs {
		all += w.bytes
	}
	for _, w := range jobs {
		part := int64(s.Part)
		if s.Of > 0 {
			part = (2*before + w.bytes) * int64(s.Of) / (2 * all)
		}
		before += w.bytes
		if w.ours = part == int64(s.Part); w.ours {
			ours = append(ours, w)
		} else {
			others = append(others, w)
		}
	}
	return ours, others
}

// errPlaced ends the building of a map once it is known where the job lies.
var errPlaced = errors.New("placed")

// look is a first pass that goes no farther than where a job lies and what it is
// told by.
func (b *run) look(ctx context.Context, w *work) error {
	there, err := b.open(ctx, w)
	if err != nil || there {
		return err
	}
	src, err := b.read(ctx, w)
	if err != nil {
		return err
	}
	src.Nearby = func(_ context.Context, plane geo.Plane, places []geo.XY) ([]trace.Record, error) {
		w.fitted.Origin, w.fitted.Places = plane.Origin(), places
		return nil, errPlaced
	}
	if _, err := locate.Build(ctx, src); !errors.Is(err, errPlaced) {
		return err
	}
	return nil
}

// beyondPlacesM is how far a line may come out of the box about its readings, at
// a bend that nobody walked, beside once more the box's own size.
const beyondPlacesM = 100.0

// fitBeside makes the first pass over those jobs of other programs that come so
// near to ours that their lines may be neighbours.
func (b *run) fitBeside(ctx context.Context, ours, others []*work) {
	sideBySide(ctx, others, b.AtOnce, func(w *work) { b.firstPass(w, func() error { return b.look(ctx, w) }) })
	var near rtree.RTreeGN[float64, struct{}]
	for _, w := range ours {
		if lo, hi, ok := w.fitted.box(func(float64) float64 { return 3 * b.ReachM }); ok {
			near.Insert(lo, hi, struct{}{})
		}
	}
	var beside []*work
	for _, w := range others {
		lo, hi, ok := w.fitted.box(func(sizeM float64) float64 { return sizeM + beyondPlacesM })
		if !ok || len(w.fitted.Lines) > 0 {
			continue
		}
		near.Search(lo, hi, func(_, _ [2]float64, _ struct{}) bool {
			beside = append(beside, w)
			return false
		})
	}
	sideBySide(ctx, beside, b.AtOnce, func(w *work) { b.firstPass(w, func() error { return b.fit(ctx, w) }) })
}

// box is the box in degrees about a job's readings, wider on all sides by what its
// size in metres asks for; ok is false where nothing is known of them.
func (f *fitted) box(wider func(sizeM float64) float64) (lo, hi [2]float64, ok bool) {
	if len(f.Places) == 0 {
		return lo, hi, false
	}
	a, z := f.Places[0], f.Places[0]
	for _, p := range f.Places {
		a = geo.XY{X: min(a.X, p.X), Y: min(a.Y, p.Y)}
		z = geo.XY{X: max(z.X, p.X), Y: max(z.Y, p.Y)}
	}
	by := wider(a.Dist(z))
	plane := geo.NewPlane(f.Origin)
	west, east := geo.XY{X: a.X - by, Y: a.Y - by}, geo.XY{X: z.X + by, Y: z.Y + by}
	lo, hi = boxOf([]geo.LonLat{plane.LonLat(west), plane.LonLat(east), plane.LonLat(geo.XY{X: west.X, Y: east.Y}), plane.LonLat(geo.XY{X: east.X, Y: west.Y})})
	if hi[0]-lo[0] > 180 { // across the antimeridian
		lo[0], hi[0] = -180, 180
	}
	return lo, hi, true
}
