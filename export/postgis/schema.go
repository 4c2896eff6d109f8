package postgis

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"loamline.example/export/layer"
)

// migrate makes the schema, or adds what a newer program has. Two programs that
// open an empty database at once wait for each other.
func (a *database) migrate(ctx context.Context) error {
	return a.again(ctx, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext('loamline schema'))`); err != nil {
			return err
		}
		if err := needPostGIS(ctx, tx); err != nil {
			return err
		}
		have, err := present(ctx, tx)
		if err != nil {
			return err
		}
		if have.has("schema_version.version") {
			var version int
			if err := tx.QueryRow(ctx, `SELECT max(version) FROM loamline.schema_version`).Scan(&version); err != nil {
				return err
			}
			if version > postGISVersion {
				return fmt.Errorf("its tables are of version %d and this program knows %d; use a newer loamline", version, postGISVersion)
			}
		}
		missing := missingSQL(have)
		if len(missing) == 0 {
			return nil
		}
		// Who writes holds tables in another order than they are changed in.
		if err := alone(ctx, tx); err != nil {
			return err
		}
		for _, q := range missing {
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

// schema is what the database has: the types of its columns, as table.column,
// and its indexes.
type schema map[string]string

func (s schema) has(name string) bool {
	_, ok := s[name]
	return ok
}

func present(ctx context.Context, tx pgx.Tx) (schema, error) {
	rows, err := tx.Query(ctx, `SELECT table_name || '.' || column_name, data_type::text FROM information_schema.columns WHERE table_schema = 'loamline'
	 UNION ALL SELECT indexname, 'index' FROM pg_indexes WHERE schemaname = 'loamline'`)
	if err != nil {
		return nil, err
	}
	have := schema{}
	var name, kind string
	_, err = pgx.ForEachRow(rows, []any{&name, &kind}, func() error {
		have[name] = kind
		return nil
	})
	return have, err
}

// missingSQL is what has to be run, given what is there.
func missingSQL(have schema) []string {
	var out []string
	if !have.has("job.key") {
		out = append(out, `CREATE SCHEMA IF NOT EXISTS loamline`,
			`CREATE TABLE loamline.schema_version (version integer PRIMARY KEY)`,
			`COMMENT ON SCHEMA loamline IS 'Maps of traced buried lines. Positions WGS 84, lengths in metres. Approximate: expose to verify.'`,
			`CREATE TABLE loamline.job (key text PRIMARY KEY, name text NOT NULL, ticket text, date date, valid_until date, locator text,
			 area text, frame text, version text, rows integer, used integer, set_aside integer, "check" integer, exposed integer,
			 unreadable integer, cautions text[], advice text[], inputs text[] NOT NULL, metadata jsonb)`)
	}
	for _, l := range layer.AllWithVertices() {
		out = append(out, missingTable(l, have)...)
	}
	if !have.has("archive_version.key") {
		out = append(out, postGISHistory...)
	} else {
		out = append(out, textColumn(have, "archive_version", "date", "date")...)
		out = append(out, textColumn(have, "archive_version", "kept_at", "timestamptz")...)
	}
	for _, name := range slices.Sorted(maps.Keys(postGISIndexes)) {
		if !have.has(name) {
			out = append(out, `CREATE INDEX `+name+` ON loamline.archive_version `+postGISIndexes[name])
		}
	}
	if len(out) > 0 {
		out = append(out, fmt.Sprintf(`INSERT INTO loamline.schema_version VALUES (%d) ON CONFLICT DO NOTHING`, postGISVersion))
	}
	return out
}

// textColumn makes a day or an instant of a column in which older programs kept a
// text, empty where there was none.
func textColumn(have schema, table, column, kind string) []string {
	if have[table+"."+column] != "text" {
		return nil
	}
	alter := `ALTER TABLE loamline.` + pgx.Identifier{table}.Sanitize() + ` ALTER COLUMN ` + pgx.Identifier{column}.Sanitize()
	return []string{
		alter + ` DROP NOT NULL`,
		alter + ` TYPE ` + kind + ` USING NULLIF(` + pgx.Identifier{column}.Sanitize() + `, '')::` + kind,
	}
}

func missingTable(l layer.Layer, have schema) []string {
	t := `loamline."` + l.Role + `"`
	var out []string
	if !have.has(l.Role + ".fid") {
		out = append(out,
			`CREATE TABLE `+t+` (fid bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, geom geometry(`+geometryKind(l)+`, 4326),
			 job text NOT NULL REFERENCES loamline.job ON DELETE CASCADE, role text NOT NULL, line text NOT NULL, utility text NOT NULL)`,
			`CREATE INDEX ON `+t+` USING gist (geom)`,
			`CREATE INDEX ON `+t+` (job)`,
			`COMMENT ON TABLE `+t+` IS `+quoteSQL(l.Words))
	}
	for _, c := range l.Columns {
		if have.has(l.Role + "." + c.Name) {
			if c.Day || c.Instant {
				out = append(out, textColumn(have, l.Role, c.Name, postgresType(c))...)
			}
			continue
		}
		words := c.Words
		if c.Unit != "" {
			words += " (" + c.Unit + ")"
		}
		out = append(out, `ALTER TABLE `+t+` ADD COLUMN "`+c.Name+`" `+postgresType(c),
			`COMMENT ON COLUMN `+t+`."`+c.Name+`" IS `+quoteSQL(words))
	}
	return out
}

func postgresType(c layer.Column) string {
	switch {
	case c.Day:
		return "date"
	case c.Instant:
		return "timestamptz"
	}
	switch c.Type {
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
