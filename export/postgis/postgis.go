package postgis

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/member"
	"loamline.example/export/place"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// database is an archive in the schema loamline of a PostGIS database.
type database struct{ conn *pgx.Conn }

// postGISVersion is the version of the tables. Columns that are missing are added
// when the archive is opened; a database with a newer version is refused.
const postGISVersion = 3

// Open opens the archive in a database, and makes its tables where there are none.
func Open(ctx context.Context, url string) (archive.Archive, error) {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		// The cause of pgx names host and user, never the password.
		return nil, fmt.Errorf("archive database: %w", err)
	}
	a := &database{conn}
	if err := a.migrate(ctx); err != nil {
		conn.Close(ctx)
		return nil, fmt.Errorf("archive database: %w", err)
	}
	return a, nil
}

func (a *database) Close() error { return a.conn.Close(context.Background()) }

// Put writes one transaction.
func (a *database) Put(ctx context.Context, s *trace.Sheet) (archive.Kept, error) {
	v, err := archive.RowOf(s)
	if err != nil {
		return archive.Kept{}, fmt.Errorf("archive database: %w; it is as it was", err)
	}
	clean(&v)
	var kept archive.Kept
	err = a.write(ctx, besides(v.ID, v.Base), func(tx pgx.Tx) error {
		ledger, err := ledgerAbout(ctx, tx, v.ID, v.Base)
		if err != nil {
			return err
		}
		at := archive.PlaceIn(ledger, v.ID, v.Base, v.SHA256)
		if kept = at.Kept; at.Unchanged {
			return nil
		}
		changed := ""
		if at.Was != nil {
			var before string
			if err := tx.QueryRow(ctx, `SELECT settings FROM loamline.archive_version WHERE key = $1 AND version = $2`, at.Was.Key, at.Was.Version).Scan(&before); err != nil {
				return err
			}
			changed = postgresText(archive.Changes(before, v.Settings))
			if err := shelvePostGIS(ctx, tx, at.Was); err != nil {
				return err
			}
		}
		if err := putPostGISJob(ctx, tx, s, at.Key); err != nil {
			return err
		}
		own, err := needOwnSystem(ctx, tx, s)
		if err != nil {
			return err
		}
		placer := place.NewPlacer(s.Plane, zeroFrame)
		for _, l := range layer.AllWithVertices() {
			if err := copyLayer(ctx, tx, s, l, at.Key, placer, own); err != nil {
				return fmt.Errorf("%s: %w", l.Role, err)
			}
		}
		told := v // may be placed again
		told.ID = at.ID
		return addPostGISVersion(ctx, tx, at.Kept, told, changed)
	})
	return kept, err
}

func putPostGISJob(ctx context.Context, tx pgx.Tx, s *trace.Sheet, key string) error {
	metadata, err := member.Text(s)
	if err != nil {
		return err
	}
	c := s.Counts
	_, err = tx.Exec(ctx, `INSERT INTO loamline.job (key, name, ticket, date, valid_until, locator, area, frame, version,
	 rows, used, set_aside, "check", exposed, unreadable, cautions, advice, inputs, metadata)
	 VALUES ($1, $2, $3, $4::text::date, $5::text::date, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19::text::jsonb)`,
		key, s.Name, featuretable.NullText(s.Job.Ticket), featuretable.NullText(words.JobDate(s)), featuretable.NullText(s.Job.ValidUntil), featuretable.NullText(s.Job.Locator), featuretable.NullText(s.Job.Area),
		s.Frame.In(s.Job.Units), s.Version, c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable, literal.NotNil(words.Cautions(s)), literal.NotNil(words.Advice(s)), archive.InputNames(s), metadata)
	return err
}

// copyLayer streams the features of a role with COPY.
func copyLayer(ctx context.Context, tx pgx.Tx, s *trace.Sheet, l layer.Layer, key string, placer place.Placer, own ownSystem) error {
	names := []string{"geom"}
	for _, c := range featuretable.Columns(l) {
		names = append(names, c.Name)
	}
	if own.column != "" {
		names = append(names, own.column)
	}
	src := newFeatureSource(s, l, key, placer)
	src.own = own
	defer src.stop()
	_, err := tx.CopyFrom(ctx, pgx.Identifier{"loamline", l.Role}, names, src)
	return err
}
