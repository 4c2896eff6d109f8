package gpkg

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
)

// archiveVersion is the version of an archive's tables in a GeoPackage; a newer
// one is refused.
const archiveVersion = 3

// gpkgHistory are the tables of an archive beyond those of a job's GeoPackage: a
// row a version, and the rows of the versions that are history.
var gpkgHistory = []string{
	`CREATE TABLE archive_schema (version INTEGER NOT NULL)`,
	fmt.Sprintf(`INSERT INTO archive_schema VALUES (%d)`, archiveVersion),
	`CREATE TABLE archive_version (id INTEGER PRIMARY KEY NOT NULL, "key" TEXT NOT NULL, version INTEGER NOT NULL, present BOOLEAN NOT NULL,
	 base TEXT NOT NULL, name TEXT NOT NULL, ticket TEXT NOT NULL, date DATE, stated TEXT NOT NULL, files TEXT NOT NULL,
	 exact BOOLEAN NOT NULL, kept_at DATETIME, changed TEXT NOT NULL, settings TEXT NOT NULL, sha256 TEXT NOT NULL, geojson BLOB,
	 UNIQUE ("key", version))`,
	`CREATE TABLE archive_rows (id INTEGER PRIMARY KEY NOT NULL, "key" TEXT NOT NULL, version INTEGER NOT NULL, role TEXT NOT NULL, rows BLOB NOT NULL)`,
	`CREATE INDEX archive_rows_version ON archive_rows ("key", version)`,
}

// needHistory refuses an archive of a newer program, and brings one of an older
// program up to date, in which every job that is there without a history is
// version 1.
func needHistory(ctx context.Context, db *sql.DB) error {
	version, err := schemaVersion(ctx, db)
	if err != nil || version == archiveVersion {
		return err
	}
	err = inTransaction(ctx, db, func(tx *sql.Tx) error {
		p, err := archivePackage(tx, "")
		if err != nil {
			return err
		}
		return p.steps(p.dropTriggers, p.needArchive, p.createTriggers)
	})
	if version >= 2 && isReadOnly(err) {
		return nil // all that is read of it is there
	}
	return err
}

// querier is a database or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

func tableThere(ctx context.Context, q querier, name string) (bool, error) {
	there := false
	err := q.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM sqlite_master WHERE name = ?)`, name).Scan(&there)
	return there, err
}

// schemaVersion is the version of an archive's tables, 1 where they have no
// history. A newer one than this program knows is refused.
func schemaVersion(ctx context.Context, q querier) (version int, err error) {
	there, err := tableThere(ctx, q, "archive_schema")
	if err != nil || !there {
		return 1, err
	}
	if err := q.QueryRowContext(ctx, `SELECT MAX(version) FROM archive_schema`).Scan(&version); err != nil {
		return 0, err
	}
	if version > archiveVersion {
		return version, fmt.Errorf("its tables are of version %d and this program knows %d; use a newer loamline", version, archiveVersion)
	}
	return version, nil
}

// needArchive makes what an archive lacks: everything in an empty file, the
// history and what came later in one of an older program.
func (p *writer) needArchive() error {
	ctx := context.Background()
	version, err := schemaVersion(ctx, p.tx)
	if err != nil || version == archiveVersion {
		return err
	}
	made, err := tableThere(ctx, p.tx, "gpkg_contents")
	if err != nil {
		return err
	}
	if !made {
		if err := p.create(); err != nil {
			return err
		}
	}
	if version >= 2 {
		return p.steps(p.addColumns, p.typeTimes, p.typeLedger)
	}
	for _, q := range gpkgHistory {
		if err := p.exec(q); err != nil {
			return err
		}
	}
	return p.steps(p.addColumns, p.typeTimes, p.adopt)
}

// adopt enters the jobs of an older program, whose inputs are told by
// fingerprints in their metadata, readings and others together.
func (p *writer) adopt() error {
	rows, err := p.tx.Query(`SELECT j."key", j.name, COALESCE(j.ticket, ''), COALESCE(j.date, ''), COALESCE(m.metadata, '')
	 FROM job j LEFT JOIN gpkg_metadata m ON m.id = j.metadata_id ORDER BY j."key"`)
	if err != nil {
		return err
	}
	var old []archive.Row
	for rows.Next() {
		var v archive.Row
		if err := rows.Scan(&v.Base, &v.Name, &v.Ticket, &v.Date, &v.Settings); err != nil {
			rows.Close()
			return err
		}
		old = append(old, v)
	}
	if err := rows.Close(); err != nil {
		return err
	}
	for _, v := range old {
		v.ID.Files = archive.FilesOf(v.Settings)
		if err := p.addVersion(archive.Kept{Key: v.Base, Version: 1}, v, "kept by an older loamline"); err != nil {
			return err
		}
	}
	return p.exec(`UPDATE archive_version SET kept_at = NULL`) // nobody knows
}

// gpkgLedger lists every job in its newest version.
func gpkgLedger(ctx context.Context, q querier) ([]archive.Entry, error) {
	rows, err := q.QueryContext(ctx, `SELECT "key", version, present, base, stated, files, exact, sha256 FROM archive_version v
	 WHERE version = (SELECT MAX(version) FROM archive_version w WHERE w."key" = v."key") ORDER BY "key"`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []archive.Entry
	for rows.Next() {
		var k archive.Entry
		var files string
		if err := rows.Scan(&k.Key, &k.Version, &k.Present, &k.Base, &k.Stated, &files, &k.Exact, &k.SHA256); err != nil {
			return nil, err
		}
		k.Files = strings.Fields(files)
		out = append(out, k)
	}
	return out, rows.Err()
}

// addVersion enters a version whose rows are in the tables.
func (p *writer) addVersion(k archive.Kept, v archive.Row, changed string) error {
	return p.exec(`INSERT INTO archive_version ("key", version, present, base, name, ticket, date, stated, files, exact, kept_at, changed, settings, sha256, geojson)
	 VALUES (?, ?, 1, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		k.Key, k.Version, v.Base, v.Name, v.Ticket, featuretable.NullText(v.Date), v.ID.Stated, strings.Join(v.ID.Files, " "), v.GeoJSON != nil,
		instantText(archive.Now()), changed, v.Settings, v.SHA256, v.GeoJSON)
}

// changesSince compares with the newest version.
func (p *writer) changesSince(k *archive.Entry, settings string) (string, error) {
	var before string
	err := p.tx.QueryRow(`SELECT settings FROM archive_version WHERE "key" = ? AND version = ?`, k.Key, k.Version).Scan(&before)
	return archive.Changes(before, settings), err
}

// shelve makes the newest version history: its rows go from the tables that a
// GIS shows to the shelf.
func (p *writer) shelve(k *archive.Entry) error {
	if !k.Present {
		return nil
	}
	for _, l := range layer.AllWithVertices() {
		if err := p.shelveTable(k, l.Role, "fid", "job"); err != nil {
			return err
		}
	}
	return p.steps(
		func() error { return p.shelveTable(k, "job", "id", "key") },
		func() error { return p.remove(k.Key) },
		func() error {
			return p.exec(`UPDATE archive_version SET present = 0 WHERE "key" = ? AND version = ?`, k.Key, k.Version)
		},
	)
}

// shelfRows is how many rows go into one packed piece of the shelf.
const shelfRows = 5000

// shelf is a packed piece: rows under the names of their columns, so that a
// table that gets a column later takes them back.
type shelf struct {
	Columns []string `json:"columns"`
	Rows    [][]any  `json:"rows"`
}

func (p *writer) shelveTable(k *archive.Entry, table, id, owner string) error {
	for after := int64(0); ; {
		piece, last, err := p.piece(table, id, owner, k.Key, after)
		if err != nil || len(piece.Rows) == 0 {
			return err
		}
		after = last
		packed, err := packShelf(piece)
		if err != nil {
			return err
		}
		if err := p.exec(`INSERT INTO archive_rows ("key", version, role, rows) VALUES (?, ?, ?, ?)`, k.Key, k.Version, table, packed); err != nil {
			return err
		}
	}
}

// piece reads the next rows of a job.
func (p *writer) piece(table, id, owner, key string, after int64) (shelf, int64, error) {
	names, err := p.columnNames(table)
	if err != nil {
		return shelf{}, 0, err
	}
	// The plus keeps the driver from making times and truths of what is stored.
	rows, err := p.tx.Query(`SELECT +"`+strings.Join(names, `", +"`)+`" FROM "`+table+`" WHERE "`+owner+`" = ? AND "`+id+`" > ? ORDER BY "`+id+`" LIMIT ?`, key, after, shelfRows)
	if err != nil {
		return shelf{}, 0, err
	}
	defer rows.Close()
	s := shelf{Columns: names[1:]} // the first is the number, which is given anew
	for rows.Next() {
		row := make([]any, len(names))
		into := make([]any, len(names))
		for i := range row {
			into[i] = &row[i]
		}
		if err := rows.Scan(into...); err != nil {
			return s, 0, err
		}
		after = row[0].(int64)
		for i, v := range row {
			if b, ok := v.([]byte); ok {
				row[i] = blobJSON{b}
			}
		}
		s.Rows = append(s.Rows, row[1:])
	}
	return s, after, rows.Err()
}

// columnNames are a table's columns in their order.
func (p *writer) columnNames(table string) ([]string, error) {
	rows, err := p.tx.Query(`SELECT name FROM pragma_table_info(?) ORDER BY cid`, table)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var names []string
	for rows.Next() {
		var n string
		if err := rows.Scan(&n); err != nil {
			return nil, err
		}
		names = append(names, n)
	}
	return names, rows.Err()
}

// blobJSON tells bytes from text.
type blobJSON struct {
	Blob []byte `json:"blob"`
}

func packShelf(s shelf) ([]byte, error) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if err := json.NewEncoder(z).Encode(s); err != nil {
		return nil, err
	}
	err := z.Close()
	return b.Bytes(), err
}
