package postgis

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/place"
	"loamline.example/trace"
)

// An archive's own positions are WGS 84. A job that is wanted in another system
// gets its geometry in that as well, in a column beside geom that is named after
// the system, such as geom_2229: jobs of several systems lie in one table, and none
// has to be reprojected by the database, which would take WGS 84 and a national
// frame for the same.

const ownPrefix = "geom_"

// ownSystem is a job's column in its own system; the zero value is none.
type ownSystem struct {
	column string
	code   int
	place  place.Placer
}

// needOwnSystem makes the columns that a job's own system wants, where they are
// not there: to change a table keeps everybody else from it.
func needOwnSystem(ctx context.Context, tx pgx.Tx, s *trace.Sheet) (ownSystem, error) {
	code := s.Output.CRS.Code
	if code == 0 || code == 4326 {
		return ownSystem{}, nil
	}
	own := ownSystem{fmt.Sprintf("%s%d", ownPrefix, code), code, place.NewPlacer(s.Plane, s.Output)}
	for _, l := range layer.AllWithVertices() {
		have, err := ownColumns(ctx, tx, l.Role)
		if err != nil {
			return own, err
		}
		if slices.Contains(have, own.column) {
			continue
		}
		for _, q := range []string{
			fmt.Sprintf(`ALTER TABLE loamline.%s ADD COLUMN IF NOT EXISTS %s geometry(%s, %d)`, pgx.Identifier{l.Role}.Sanitize(), own.column, geometryKind(l), code),
			fmt.Sprintf(`CREATE INDEX IF NOT EXISTS %s_%s ON loamline.%s USING gist (%s)`, l.Role, own.column, pgx.Identifier{l.Role}.Sanitize(), own.column),
			fmt.Sprintf(`COMMENT ON COLUMN loamline.%s.%s IS %s`, pgx.Identifier{l.Role}.Sanitize(), own.column,
				quoteSQL("geom in "+s.Output.CRS.ID()+" ("+s.Output.CRS.Name+"), of jobs that were wanted in it")),
		} {
			if _, err := tx.Exec(ctx, q); err != nil {
				return own, fmt.Errorf("column %s: %w", own.column, err)
			}
		}
	}
	return own, nil
}

// geometryKind is a layer's geometry as PostGIS names it.
func geometryKind(l layer.Layer) string {
	return map[uint32]string{featuretable.Point: "Point", featuretable.LineString: "LineString",
		featuretable.MultiLineString: "MultiLineString", featuretable.MultiPolygon: "MultiPolygon"}[featuretable.Code(l)]
}

// ownColumns are the columns of a table in systems of jobs.
func ownColumns(ctx context.Context, tx pgx.Tx, role string) ([]string, error) {
	rows, err := tx.Query(ctx, `SELECT column_name::text FROM information_schema.columns WHERE table_schema = 'loamline' AND table_name = $1
	 AND column_name ~ '^geom_[0-9]+$' ORDER BY 1`, role)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowTo[string])
}

// exactGeometry is the JSON that puts every geometry of a row t in as its exact
// bytes.
func exactGeometry(columns []string) string {
	var b strings.Builder
	for _, c := range append([]string{"geom"}, columns...) {
		b.WriteString(` || jsonb_build_object('` + c + `', encode(ST_AsEWKB(t.` + c + `), 'hex'))`)
	}
	return b.String()
}
