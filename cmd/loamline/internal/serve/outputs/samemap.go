package outputs

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"

	"loamline.example/export/geojson"
	"loamline.example/trace"
)

// ErrOtherMap is why an output of an old run cannot be made any more.
var ErrOtherMap = errors.New("this file was never asked for while the version of the program ran that made this map, and the version that runs now draws the map otherwise")

// SameMap refuses a sheet that does not give the GeoJSON that a run lists.
func SameMap(ctx context.Context, sheet *trace.Sheet, files []File) error {
	sum, want := sha256.New(), ""
	for _, o := range files {
		if o.Key == "geojson" {
			want = o.SHA256
		}
	}
	if err := geojson.Write(stoppableWriter{ctx, sum}, sheet); err != nil {
		return err
	}
	if hex.EncodeToString(sum.Sum(nil)) != want {
		return ErrOtherMap
	}
	return nil
}
