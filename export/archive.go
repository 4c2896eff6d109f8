package export

import (
	"context"
	"fmt"
	"strings"

	"loamline.example/export/archive"
	"loamline.example/export/gpkg"
	"loamline.example/export/postgis"
)

// OpenArchive opens the archive at a place: a file that ends in .gpkg, made when
// the first job is put, or a PostGIS database by its URL (postgres://…).
func OpenArchive(ctx context.Context, where string) (archive.Archive, error) {
	switch {
	case strings.HasPrefix(where, "postgres://"), strings.HasPrefix(where, "postgresql://"):
		return postgis.Open(ctx, where)
	case strings.HasSuffix(strings.ToLower(where), ".gpkg"):
		return gpkg.OpenArchive(ctx, where)
	}
	return nil, fmt.Errorf("%s is not an archive: give a file that ends in .gpkg or a database as postgres://user@host/name", where)
}
