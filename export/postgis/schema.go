package postgis

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"loamline/export/layer"
)

// migrate makes the schema, or adds what a newer program has. Two programs that
// open an empty database at once wait for each other.
func (a *database) migrate(ctx context.Context) error {
	return pgx.BeginFunc(ctx, a.conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext('loamline schema'))`); err != nil {
			return err
		}
		if err := needPostGIS(ctx, tx); err != nil {
			return err
		}
		have, err := presentColumns(ctx, tx)
		if err != nil {
			return err
		}
		if have["schema_version.version"] {
			var version int
			if err := tx.QueryRow(ctx, `SELECT max(version) FROM loamline.schema_version`).Scan(&version); err != nil {
				return err
			}
			if version > postGISVersion {
				return fmt.Errorf("its tables are of version %d and this program knows %d; use a newer loamline", version, postGISVersion)
			}
		}
		for _, q := range missingSQL(have) {
			if _, err := tx.Exec(ctx, q); err != nil {
				return fmt.Errorf("%w in %.80s", err, q)
			}
		}
		return nil
	})
}

func needPostGIS(ctx context.Context, tx pgx.Tx) error {
	var there bool
	if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT 1 FROM pg_extension WHERE extname = 'postgis')`).Scan(&there); err != nil {
		return err
	}
	if there {
		return nil
	}
	if _, err := tx.Exec(ctx, `CREATE EXTENSION postgis`); err != nil {
		return fmt.Errorf("the database has no PostGIS and it could not be added: let its owner run CREATE EXTENSION postgis: %w", err)
	}
	return nil
}

// presentColumns lists what the schema has, as table.column, and its indexes.
func presentColumns(ctx context.Context, tx pgx.Tx) (map[string]bool, error) {
	rows, err := tx.Query(ctx, `SELECT table_name || '.' || column_name FROM information_schema.columns WHERE table_schema = 'loamline'
	 UNION ALL SELECT indexname FROM pg_indexes WHERE schemaname = 'loamline'`)
	if err != nil {
		return nil, err
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	have := map[string]bool{}
	for _, n := range names {
		have[n] = true
	}
	return have, err
}

// missingSQL is what has to be run, given the columns that are there.
func missingSQL(have map[string]bool) []string {
	var out []string
	if !have["job.key"] {
		out = append(out, `CREATE SCHEMA IF NOT EXISTS loamline`,
			`CREATE TABLE loamline.schema_version (version integer PRIMARY KEY)`,
			fmt.Sprintf(`INSERT INTO loamline.schema_version VALUES (%d)`, postGISVersion),
			`COMMENT ON SCHEMA loamline IS 'Maps of traced buried lines. Positions WGS 84, lengths in metres. Approximate: expose to verify.'`,
			`CREATE TABLE loamline.job (key text PRIMARY KEY, name text NOT NULL, ticket text, date date, valid_until date, locator text,
			 area text, frame text, version text, rows integer, used integer, set_aside integer, "check" integer, exposed integer,
			 unreadable integer, cautions text[], advice text[], inputs text[] NOT NULL, metadata jsonb)`)
	}
	for _, l := range layer.AllWithVertices() {
		out = append(out, missingTable(l, have)...)
	}
	if !have["archive_version.key"] {
		out = append(out, postGISHistory...)
	}
	for _, name := range slices.Sorted(maps.Keys(postGISIndexes)) {
		if !have[name] {
			out = append(out, `CREATE INDEX `+name+` ON loamline.archive_version `+postGISIndexes[name])
		}
	}
	return out
}

func missingTable(l layer.Layer, have map[string]bool) []string {
	t := `loamline."` + l.Role + `"`
	var out []string
	if !have[l.Role+".fid"] {
		out = append(out,
			`CREATE TABLE `+t+` (fid bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, geom geometry(`+geometryKind(l)+`, 4326),
			 job text NOT NULL REFERENCES loamline.job ON DELETE CASCADE, role text NOT NULL, line text NOT NULL, utility text NOT NULL)`,
			`CREATE INDEX ON `+t+` USING gist (geom)`,
			`CREATE INDEX ON `+t+` (job)`,
			`COMMENT ON TABLE `+t+` IS `+quoteSQL(l.Words))
	}
	for _, c := range l.Columns {
		if have[l.Role+"."+c.Name] {
			continue
		}
		words := c.Words
		if c.Unit != "" {
			words += " (" + c.Unit + ")"
		}
		out = append(out, `ALTER TABLE `+t+` ADD COLUMN "`+c.Name+`" `+postgresType(c.Type),
			`COMMENT ON COLUMN `+t+`."`+c.Name+`" IS `+quoteSQL(words))
	}
	return out
}

func postgresType(t layer.Type) string {
	switch t {
	case layer.TypeInteger:
		return "bigint"
	case layer.TypeReal:
		return "double precision"
	case layer.TypeBoolean:
		return "boolean"
	case layer.TypeTexts:
		return "text[]"
	case layer.TypeReals:
		return "double precision[]"
	}
	return "text"
}

func quoteSQL(s string) string { return `'` + strings.ReplaceAll(s, `'`, `''`) + `'` }

// postgresText is text as PostgreSQL takes it: UTF-8 without NUL.
func postgresText(s string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\x00", "\uFFFD")
}
