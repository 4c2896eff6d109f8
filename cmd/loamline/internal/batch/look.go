package batch

import (
	"context"
	"errors"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/locate"
)

// errPlaced ends the building of a map once it is known where the job lies.
var errPlaced = errors.New("placed")

// look finds out where a job lies and what it is told by, and fits nothing.
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
	if !w.ours {
		return nil
	}
	return b.writeFitted(w.job, &w.fitted)
}
