package postgis

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/literal"
)

// postGISHistory makes what an archive has beyond the tables of its jobs: a row
// a version, and the rows of the versions that are history. A job of an older
// program becomes version 1; its inputs are told by the fingerprints in its
// metadata, readings and others together.
var postGISHistory = []string{
	`CREATE TABLE loamline.archive_version (key text NOT NULL, version integer NOT NULL, present boolean NOT NULL, base text NOT NULL,
	 name text NOT NULL, ticket text NOT NULL, date date, stated text NOT NULL, files text[] NOT NULL, exact boolean NOT NULL,
	 kept_at timestamptz, changed text NOT NULL, settings text NOT NULL, sha256 text NOT NULL, geojson bytea, PRIMARY KEY (key, version))`,
	`CREATE TABLE loamline.archive_row (id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, key text NOT NULL, version integer NOT NULL,
	 role text NOT NULL, row jsonb NOT NULL)`,
	`CREATE INDEX ON loamline.archive_row (key, version, role, id)`,
	`INSERT INTO loamline.archive_version SELECT key, 1, true, key, name, COALESCE(ticket, ''), date, '',
	 COALESCE((SELECT array_agg(DISTINCT i->>'sha256') FROM jsonb_array_elements(metadata->'inputs') i), '{}'),
	 false, NULL, 'kept by an older loamline', COALESCE(metadata::text, ''), '', NULL FROM loamline.job`,
}

// postGISIndexes are what the ledger is searched by, by their names.
var postGISIndexes = map[string]string{
	// Without a list of what is still to be sorted in: who asks would read that too.
	"archive_version_files":  `USING gin (files) WITH (fastupdate = off)`,
	"archive_version_stated": `(stated) WHERE stated <> ''`,
	"archive_version_base":   `(base)`,
	"archive_version_key":    `(key COLLATE "C")`,
}

// postGISReader is a connection or a transaction.
type postGISReader interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, sql string, args ...any) pgx.Row
}

// newest is what the newest version of a job alone fulfils.
const newest = `version = (SELECT max(version) FROM loamline.archive_version w WHERE w.key = v.key)`

// newestVersions is every job in its newest version.
const newestVersions = ` FROM loamline.archive_version v WHERE ` + newest + ` ORDER BY key COLLATE "C"`

const ledgerColumns = `SELECT key, version, present, base, stated, files, exact, sha256`

const ledgerAboutSQL = ledgerColumns + ` FROM loamline.archive_version v WHERE ` + newest + ` AND (files && $1 OR stated = $2 AND stated <> '' OR base = $3
 OR key COLLATE "C" = $3 OR key COLLATE "C" > $3 || ' (' AND key COLLATE "C" < $3 || ' )') ORDER BY key COLLATE "C"`

// ledgerAbout is what the archive has of a job and of those that it could be taken
// for: told by the same, sharing readings, of the same base, or under a key that it
// could take. Each is found by an index, for the ledger of a city is long.
func ledgerAbout(ctx context.Context, q postGISReader, id archive.Identity, base string) ([]archive.Entry, error) {
	rows, err := q.Query(ctx, ledgerAboutSQL, literal.NotNil(id.Files), id.Stated, base)
	if err != nil {
		return nil, err
	}
	return collectLedger(rows)
}

func collectLedger(rows pgx.Rows) ([]archive.Entry, error) {
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (archive.Entry, error) {
		var k archive.Entry
		err := row.Scan(&k.Key, &k.Version, &k.Present, &k.Base, &k.Stated, &k.Files, &k.Exact, &k.SHA256)
		return k, err
	})
}

// clean makes texts of what PostgreSQL takes as such.
func clean(v *archive.Row) {
	for _, s := range []*string{&v.Base, &v.Name, &v.Ticket, &v.Settings, &v.ID.Stated} {
		*s = postgresText(*s)
	}
}

func addPostGISVersion(ctx context.Context, tx pgx.Tx, k archive.Kept, v archive.Row, changed string) error {
	files := v.ID.Files
	if files == nil {
		files = []string{}
	}
	_, err := tx.Exec(ctx, `INSERT INTO loamline.archive_version (key, version, present, base, name, ticket, date, stated, files, exact, kept_at, changed, settings, sha256, geojson)
	 VALUES ($1, $2, true, $3, $4, $5, $6::text::date, $7, $8, true, $9::text::timestamptz, $10, $11, $12, $13)`,
		k.Key, k.Version, v.Base, v.Name, v.Ticket, featuretable.NullText(v.Date), v.ID.Stated, files, archive.Now(), changed, v.Settings, v.SHA256, v.GeoJSON)
	return err
}

// shelvePostGIS makes the newest version history. Geometry goes as its exact
// bytes, for the database's own JSON of it is rounded.
func shelvePostGIS(ctx context.Context, tx pgx.Tx, k *archive.Entry) error {
	if !k.Present {
		return nil
	}
	for _, l := range layer.AllWithVertices() {
		own, err := ownColumns(ctx, tx, l.Role)
		if err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `INSERT INTO loamline.archive_row (key, version, role, row)
		 SELECT $1, $2, $3, (to_jsonb(t) - 'fid')`+exactGeometry(own)+`
		 FROM loamline.`+pgx.Identifier{l.Role}.Sanitize()+` t WHERE t.job = $1 ORDER BY t.fid`, k.Key, k.Version, l.Role)
		if err != nil {
			return fmt.Errorf("%s: %w", l.Role, err)
		}
	}
	for _, q := range []string{
		`INSERT INTO loamline.archive_row (key, version, role, row) SELECT $1, $2, 'job', to_jsonb(j) FROM loamline.job j WHERE j.key = $1`,
		`UPDATE loamline.archive_version SET present = false WHERE key = $1 AND version = $2`,
	} {
		if _, err := tx.Exec(ctx, q, k.Key, k.Version); err != nil {
			return err
		}
	}
	_, err := tx.Exec(ctx, `DELETE FROM loamline.job WHERE key = $1`, k.Key)
	return err
}

// restorePostGIS makes an earlier version the newest, under a number of its own.
func restorePostGIS(ctx context.Context, tx pgx.Tx, k *archive.Entry, version int) error {
	there := false
	err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT 1 FROM loamline.archive_version WHERE key = $1 AND version = $2)`, k.Key, version).Scan(&there)
	if err != nil {
		return err
	}
	if !there {
		return archive.NoSuchVersion(k.Key, version)
	}
	if err := shelvePostGIS(ctx, tx, k); err != nil {
		return err
	}
	const jobRow = `INSERT INTO loamline.job SELECT r.* FROM loamline.archive_row a, jsonb_populate_record(NULL::loamline.job, a.row) r
	 WHERE a.key = $1 AND a.version = $2 AND a.role = 'job'`
	if _, err := tx.Exec(ctx, jobRow, k.Key, version); err != nil {
		return err
	}
	for _, l := range layer.AllWithVertices() {
		own, err := ownColumns(ctx, tx, l.Role)
		if err != nil {
			return err
		}
		names := append([]string{"geom"}, own...)
		for _, c := range featuretable.Columns(l) {
			names = append(names, pgx.Identifier{c.Name}.Sanitize())
		}
		table := `loamline.` + pgx.Identifier{l.Role}.Sanitize()
		_, err = tx.Exec(ctx, `INSERT INTO `+table+` (`+strings.Join(names, ", ")+`) SELECT r.`+strings.Join(names, ", r.")+`
		 FROM loamline.archive_row a, jsonb_populate_record(NULL::`+table+`, a.row) r WHERE a.key = $1 AND a.version = $2 AND a.role = $3 ORDER BY a.id`,
			k.Key, version, l.Role)
		if err != nil {
			return fmt.Errorf("%s: %w", l.Role, err)
		}
	}
	_, err = tx.Exec(ctx, `INSERT INTO loamline.archive_version SELECT key, $3, true, base, name, ticket, date, stated, files, exact, $4::text::timestamptz, $5, settings, sha256, geojson
	 FROM loamline.archive_version WHERE key = $1 AND version = $2`, k.Key, version, k.Version+1, archive.Now(), fmt.Sprintf("version %d restored", version))
	return err
}

func (a *database) Jobs(ctx context.Context) ([]archive.Job, error) {
	rows, err := a.conn.Query(ctx, `SELECT key, name, ticket, `+dayWords("date")+`, version, NOT present`+newestVersions)
	if err != nil {
		return nil, fmt.Errorf("archive database: %w", err)
	}
	return pgx.CollectRows(rows, pgx.RowToStructByPos[archive.Job])
}

func (a *database) Versions(ctx context.Context, key string) ([]archive.Version, error) {
	rows, err := a.conn.Query(ctx, `SELECT key, name, ticket, `+dayWords("date")+`, version, NOT present, `+instantWords("kept_at")+`, changed, stated, files, settings
	 FROM loamline.archive_version WHERE key = $1 ORDER BY version DESC`, key)
	if err != nil {
		return nil, fmt.Errorf("archive database: %w", err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (archive.Version, error) {
		var v archive.Version
		var stated string
		var files []string
		err := row.Scan(&v.Key, &v.Name, &v.Ticket, &v.Date, &v.Version, &v.Removed, &v.KeptAt, &v.Changed, &stated, &files, &v.Settings)
		v.Identity = archive.IdentityWords(stated, files)
		return v, err
	})
	if err == nil && len(out) == 0 {
		err = archive.NoSuchJob(key)
	}
	return out, err
}

func (a *database) Map(ctx context.Context, key string, version int) ([]byte, error) {
	var packed []byte
	err := a.conn.QueryRow(ctx, `SELECT geojson FROM loamline.archive_version WHERE key = $1 AND version = $2`, key, version).Scan(&packed)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, archive.NoSuchVersion(key, version)
	}
	if err != nil {
		return nil, fmt.Errorf("archive database: %w", err)
	}
	return archive.UnpackMap(key, version, packed)
}

func (a *database) Remove(ctx context.Context, key string) error {
	return a.write(ctx, alone, func(tx pgx.Tx) error {
		k, err := newestPostGIS(ctx, tx, key)
		if err != nil {
			return err
		}
		if !k.Present {
			return archive.TakenOut(key)
		}
		return shelvePostGIS(ctx, tx, k)
	})
}

func (a *database) Restore(ctx context.Context, key string, version int) (archive.Kept, error) {
	var kept archive.Kept
	err := a.write(ctx, alone, func(tx pgx.Tx) error {
		k, err := newestPostGIS(ctx, tx, key)
		if err != nil {
			return err
		}
		var there bool
		if kept, there = archive.Restored(k, version); there {
			return nil
		}
		return restorePostGIS(ctx, tx, k, version)
	})
	return kept, err
}

func newestPostGIS(ctx context.Context, tx pgx.Tx, key string) (*archive.Entry, error) {
	rows, err := tx.Query(ctx, ledgerColumns+` FROM loamline.archive_version v WHERE key = $1 AND `+newest, key)
	if err != nil {
		return nil, err
	}
	ledger, err := collectLedger(rows)
	if err != nil {
		return nil, err
	}
	return archive.EntryOf(ledger, key)
}
