package postgis

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"loamline/export/archive"
	"loamline/export/featuretable"
	"loamline/export/literal"
	"loamline/export/place"
	"loamline/trace"
)

// maxCells is up to how many places the database itself measures distances; with
// more it gives what the boxes hold, and the rest is done here.
const maxCells = 20000

func (a *database) Near(ctx context.Context, q archive.NearQuery) ([]trace.Record, error) {
	c := archive.NewCells(q)
	multi, err := cellPlaces(q, c)
	if err != nil {
		return nil, err
	}
	var candidates []archive.Line
	for _, e := range c.Extents(q.Plane) {
		found, err := a.within(ctx, e, multi, 2*c.WithinM, q.Except)
		if err != nil {
			return nil, fmt.Errorf("archive database: %w", err)
		}
		candidates = append(candidates, found...)
	}
	return archive.NearRecords(q, c, candidates), nil
}

// cellPlaces are the middles of the cells in which a job's places lie; none where
// they are too many to measure from.
func cellPlaces(q archive.NearQuery, c archive.Cells) (featuretable.Geometry, error) {
	places := place.NewPlacer(q.Plane, zeroFrame)
	multi := featuretable.Geometry{Code: featuretable.MultiPoint}
	if len(c.Places) > maxCells {
		return multi, nil
	}
	for _, p := range c.Centers() {
		at, err := places.Point(q.Plane.LonLat(p))
		if err != nil {
			return multi, err
		}
		multi.Points = append(multi.Points, at)
	}
	return multi, nil
}

// within asks the spatial index for the lines in a box and near the places, but
// not for those of some jobs.
func (a *database) within(ctx context.Context, e archive.Extent, places featuretable.Geometry, withinM float64, except archive.Identities) ([]archive.Line, error) {
	sql, args := withinSQL(e, places, withinM)
	rows, err := a.conn.Query(ctx, sql, args...)
	if err != nil {
		return nil, err
	}
	var out []archive.Line
	var l archive.Line
	var blob []byte
	var depths []*float64
	var own archive.Identity
	_, err = pgx.ForEachRow(rows, []any{&l.Job, &l.Line, &l.Utility, &l.Date, &blob, &depths, &own.Stated, &own.Files}, func() error {
		if except.Share(own) {
			return nil
		}
		path, err := featuretable.ReadLine(blob)
		out = append(out, archive.Line{Job: l.Job, Line: l.Line, Utility: l.Utility, Date: l.Date, Path: path, DepthM: literal.OrUnknown(depths)})
		return err
	})
	return out, err
}

// withinSQL is the question behind within. What a job is told by comes with each
// of its lines: few lines are near, and the ledger of a city is long.
func withinSQL(e archive.Extent, places featuretable.Geometry, withinM float64) (string, []any) {
	sql := `SELECT c.job, c.line, c.utility, ` + dayWords("j.date") + `, ST_AsBinary(c.geom), c.depth_m, v.stated, v.files
	 FROM loamline.centerline c JOIN loamline.job j ON j.key = c.job JOIN loamline.archive_version v ON v.key = c.job AND v.present
	 WHERE c.geom && ST_MakeEnvelope($1, $2, $3, $4, 4326)`
	args := []any{e.West, e.South, e.East, e.North}
	if len(places.Points) > 0 {
		sql += ` AND ST_DWithin(c.geom::geography, ST_GeomFromEWKB($5)::geography, $6)`
		args = append(args, places.AppendWKB(nil, 4326), withinM)
	}
	return sql + ` ORDER BY c.job COLLATE "C", c.line COLLATE "C", c.part`, args
}
