package export

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"loamline/trace"
)

// postGIS is an archive in the schema loamline of a PostGIS database.
type postGIS struct{ conn *pgx.Conn }

// postGISVersion is the version of the tables. Columns that are missing are added
// when the archive is opened; a database with a newer version is refused.
const postGISVersion = 2

func openPostGIS(ctx context.Context, url string) (Archive, error) {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		// The cause of pgx names host and user, never the password.
		return nil, fmt.Errorf("archive database: %w", err)
	}
	a := &postGIS{conn}
	if err := a.migrate(ctx); err != nil {
		conn.Close(ctx)
		return nil, fmt.Errorf("archive database: %w", err)
	}
	return a, nil
}

func (a *postGIS) Close() error { return a.conn.Close(context.Background()) }

// write does something in one transaction. Writers wait for each other, so that
// what each has read of the ledger stays true.
func (a *postGIS) write(ctx context.Context, do func(tx pgx.Tx) error) error {
	err := pgx.BeginFunc(ctx, a.conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext('loamline archive'))`); err != nil {
			return err
		}
		return do(tx)
	})
	if err != nil {
		return fmt.Errorf("archive database: %w; it is as it was", err)
	}
	return nil
}

// Put writes one transaction.
func (a *postGIS) Put(ctx context.Context, s *trace.Sheet) (Kept, error) {
	v, err := versionOf(s)
	if err != nil {
		return Kept{}, fmt.Errorf("archive database: %w; it is as it was", err)
	}
	v.clean()
	var kept Kept
	err = a.write(ctx, func(tx pgx.Tx) error {
		ledger, err := postGISLedger(ctx, tx)
		if err != nil {
			return err
		}
		at := placeIn(ledger, v.id, v.base, v.sha256)
		if kept = at.Kept; at.Unchanged {
			return nil
		}
		changed := ""
		if at.was != nil {
			var before string
			if err := tx.QueryRow(ctx, `SELECT settings FROM loamline.archive_version WHERE key = $1 AND version = $2`, at.was.key, at.was.version).Scan(&before); err != nil {
				return err
			}
			changed = postgresText(changes(before, v.settings))
			if err := shelvePostGIS(ctx, tx, at.was); err != nil {
				return err
			}
		}
		if err := putPostGISJob(ctx, tx, s, at.Key); err != nil {
			return err
		}
		place := newPlacer(s.Plane, zeroFrame)
		for _, l := range gpkgTables() {
			if err := copyLayer(ctx, tx, s, l, at.Key, place); err != nil {
				return fmt.Errorf("%s: %w", l.Role, err)
			}
		}
		v.id = at.id
		return addPostGISVersion(ctx, tx, at.Kept, v, changed)
	})
	return kept, err
}

func putPostGISJob(ctx context.Context, tx pgx.Tx, s *trace.Sheet, key string) error {
	member, err := memberText(s)
	if err != nil {
		return err
	}
	c := s.Counts
	_, err = tx.Exec(ctx, `INSERT INTO loamline.job (key, name, ticket, date, valid_until, locator, area, frame, version,
	 rows, used, set_aside, "check", exposed, unreadable, cautions, advice, inputs, metadata)
	 VALUES ($1, $2, $3, $4::text::date, $5::text::date, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19::text::jsonb)`,
		key, s.Name, nullText(s.Job.Ticket), nullText(JobDate(s)), nullText(s.Job.ValidUntil), nullText(s.Job.Locator), nullText(s.Job.Area),
		s.Frame, s.Version, c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable, notNil(s.Cautions), notNil(s.Advice), inputNames(s), member)
	return err
}

// copyLayer streams the features of a role with COPY.
func copyLayer(ctx context.Context, tx pgx.Tx, s *trace.Sheet, l layer, key string, place placer) error {
	names := []string{"geom"}
	for _, c := range tableColumns(l) {
		names = append(names, c.Name)
	}
	src := newFeatureSource(s, l, key, place)
	defer src.stop()
	_, err := tx.CopyFrom(ctx, pgx.Identifier{"loamline", l.Role}, names, src)
	return err
}

// maxCells is up to how many places the database itself measures distances; with
// more it gives what the boxes hold, and the rest is done here.
const maxCells = 20000

func (a *postGIS) Near(ctx context.Context, q NearQuery) ([]trace.Record, error) {
	ledger, err := postGISLedger(ctx, a.conn)
	if err != nil {
		return nil, fmt.Errorf("archive database: %w", err)
	}
	own := []string{}
	for k := range ownKeys(ledger, q.Except) {
		own = append(own, k)
	}
	c := newCells(q)
	places := newPlacer(q.Plane, zeroFrame)
	multi := geometry{code: wkbMultiPoint}
	if len(c.places) <= maxCells {
		for _, p := range c.centers() {
			at, err := places.point(q.Plane.LonLat(p))
			if err != nil {
				return nil, err
			}
			multi.points = append(multi.points, at)
		}
	}
	var candidates []archivedLine
	for _, e := range c.extents(q.Plane) {
		found, err := a.within(ctx, e, multi, 2*c.withinM, own)
		if err != nil {
			return nil, fmt.Errorf("archive database: %w", err)
		}
		candidates = append(candidates, found...)
	}
	return nearRecords(q, c, candidates), nil
}

// within asks the spatial index for the lines in a box and near the places.
func (a *postGIS) within(ctx context.Context, e extent, places geometry, withinM float64, own []string) ([]archivedLine, error) {
	sql := `SELECT c.job, c.line, c.utility, COALESCE(j.date::text, ''), ST_AsBinary(c.geom), c.depth_m
	 FROM loamline.centerline c JOIN loamline.job j ON j.key = c.job
	 WHERE c.geom && ST_MakeEnvelope($1, $2, $3, $4, 4326) AND c.job <> ALL ($5)`
	args := []any{e.west, e.south, e.east, e.north, own}
	if len(places.points) > 0 {
		sql += ` AND ST_DWithin(c.geom::geography, ST_GeomFromEWKB($6)::geography, $7)`
		args = append(args, places.appendWKB(nil, 4326), withinM)
	}
	rows, err := a.conn.Query(ctx, sql+` ORDER BY c.job COLLATE "C", c.line COLLATE "C", c.part`, args...)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (archivedLine, error) {
		var l archivedLine
		var blob []byte
		var depths []*float64
		if err := row.Scan(&l.job, &l.line, &l.utility, &l.date, &blob, &depths); err != nil {
			return l, err
		}
		l.depthM = orUnknown(depths)
		path, err := wkbLine(blob)
		l.path = path
		return l, err
	})
}
