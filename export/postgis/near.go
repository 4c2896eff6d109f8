package postgis

import (
	"context"
	"fmt"
	"math"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/trace"
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
	for _, boxes := range questions(q, c) {
		found, err := a.within(ctx, boxes, multi, 2*c.WithinM, q.Except)
		if err != nil {
			return nil, fmt.Errorf("archive database: %w", err)
		}
		candidates = append(candidates, found...)
	}
	return archive.NearRecords(q, c, candidates), nil
}

// maxBoxes is how many boxes the index is asked for at once: one about a long walk
// holds whole blocks beside it.
const maxBoxes = 16

// questions are the boxes to ask for, each list in a question of its own: about the
// antimeridian each side by itself, so that a line in two pieces is two lines as ever.
func questions(q archive.NearQuery, c archive.Cells) [][]archive.Extent {
	sides := c.Extents(q.Plane)
	if len(sides) == 1 {
		return [][]archive.Extent{c.Boxes(q.Plane, maxBoxes)}
	}
	var out [][]archive.Extent
	for _, e := range sides {
		out = append(out, []archive.Extent{e})
	}
	return out
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

// within asks the spatial index for the lines in some boxes and near the places, but
// not for those of some jobs.
func (a *database) within(ctx context.Context, boxes []archive.Extent, places featuretable.Geometry, withinM float64, except archive.Identities) ([]archive.Line, error) {
	sql, args := withinSQL(boxes, places, withinM)
	rows, err := a.conn.Query(ctx, sql, args...)
	if err != nil {
		return nil, err
	}
	var out []archive.Line
	var l archive.Line
	var blob []byte
	var depths, bands []*float64
	var own archive.Identity
	_, err = pgx.ForEachRow(rows, []any{&l.Job, &l.Line, &l.Utility, &l.Date, &blob, &depths, &bands, &l.FrameDoubtM, &own.Stated, &own.Files}, func() error {
		if except.Share(own) {
			return nil
		}
		path, err := featuretable.ReadLine(blob)
		out = append(out, archive.Line{Job: l.Job, Line: l.Line, Utility: l.Utility, Date: l.Date, Path: path, DepthM: literal.OrUnknown(depths),
			Horizontal95M: literal.OrUnknown(bands), FrameDoubtM: l.FrameDoubtM})
		return err
	})
	return out, err
}

// withinSQL is the question behind within. What a job is told by comes with each
// of its lines: few lines are near, and the ledger of a city is long.
func withinSQL(boxes []archive.Extent, places featuretable.Geometry, withinM float64) (string, []any) {
	sql := `SELECT c.job, c.line, c.utility, ` + dayWords("j.date") + `, ST_AsBinary(c.geom), c.depth_m, c.horizontal_95_m,
	 COALESCE((SELECT max(z.datum_doubt_m) FROM loamline.caution_zone z WHERE z.job = c.job AND z.line = c.line), 0), v.stated, v.files
	 FROM loamline.centerline c JOIN loamline.job j ON j.key = c.job JOIN loamline.archive_version v ON v.key = c.job AND v.present
	 WHERE (`
	var args []any
	arg := func(v any) string {
		args = append(args, v)
		return fmt.Sprintf("$%d", len(args))
	}
	for i, e := range boxes {
		if i > 0 {
			sql += ` OR `
		}
		sql += `c.geom && ST_MakeEnvelope(` + arg(e.West) + `, ` + arg(e.South) + `, ` + arg(e.East) + `, ` + arg(e.North) + `, 4326)`
	}
	sql += `)`
	if len(places.Points) > 0 {
		at := `ST_GeomFromEWKB(` + arg(places.AppendWKB(nil, 4326)) + `)`
		if far, ok := farDeg(boxes, withinM); ok {
			sql += ` AND ST_DWithin(c.geom, ` + at + `, ` + arg(far) + `)`
		}
		sql += ` AND ST_DWithin(c.geom::geography, ` + at + `::geography, ` + arg(withinM) + `)`
	}
	return sql + ` ORDER BY c.job COLLATE "C", c.line COLLATE "C", c.part`, args
}

// farDeg is a distance in degrees beyond which, in these boxes, nothing is within so
// many metres: measured flat it costs a tenth of what it does on the ellipsoid. There is none about the antimeridian, where near places
// have far degrees, nor at the poles.
func farDeg(boxes []archive.Extent, withinM float64) (float64, bool) {
	const shortestDegreeM = 110_500.0 // of latitude, at the equator
	lat := 0.0
	for _, e := range boxes {
		if e.West <= -180 || e.East >= 180 {
			return 0, false
		}
		lat = math.Max(lat, math.Max(math.Abs(e.South), math.Abs(e.North)))
	}
	if lat > 89 {
		return 0, false
	}
	return withinM / (shortestDegreeM * math.Cos(lat*math.Pi/180)), true
}
