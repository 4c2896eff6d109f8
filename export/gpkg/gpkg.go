package gpkg

import (
	"context"
	"database/sql"
	"fmt"
	"os"

	_ "modernc.org/sqlite" // the driver

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// Options chooses how a GeoPackage is written. The zero value is
// WGS 84 in degrees.
type Options struct {
	// Frame of the coordinates, as geo.NewFrame makes it. Without an epoch it is
	// joined to the job's own frame, so that figures go out as they came in.
	Frame geo.Frame
}

// Write writes the sheet as an OGC GeoPackage 1.3: a table per role under the
// role's name with typed columns and a spatial index, a point table with a row
// a vertex, the job's particulars as a table and as metadata, and styles that a
// desktop GIS picks up. Lists are JSON texts. The same sheet gives the same
// bytes: its dates are the job's.
//
// It fills the file at path, which may exist and be empty.
func Write(path string, s *trace.Sheet, opt Options) error {
	return WriteContext(context.Background(), path, s, opt)
}

// WriteContext is Write, and ends in its middle once the context has ended.
func WriteContext(ctx context.Context, path string, s *trace.Sheet, opt Options) error {
	frame, err := writtenFrame(opt.Frame, s.Job)
	if err != nil {
		return err
	}
	if err := holdsJob(frame.CRS, s); err != nil {
		return err
	}
	if err := os.Remove(path); err != nil && !os.IsNotExist(err) {
		return err
	}
	db, err := openSQLite(path)
	if err != nil {
		return err
	}
	defer db.Close()
	if err := inTransaction(ctx, db, func(tx *sql.Tx) error {
		p := &writer{tx: tx, frame: frame, stamp: stamp(words.JobDate(s))}
		return p.steps(p.create, func() error { return p.put(s, archive.JobKey(s)) }, p.createTriggers)
	}); err != nil {
		return fmt.Errorf("GeoPackage: %w", err)
	}
	// Pages freed on the way hold nothing that a reader needs.
	_, err = db.ExecContext(ctx, "VACUUM")
	return err
}

// writtenFrame is the frame that a job's coordinates are written in.
func writtenFrame(f geo.Frame, job trace.Job) (geo.Frame, error) {
	if f.CRS.Code == 0 {
		return geo.NewFrame("EPSG:4326", "", 0)
	}
	if !f.EpochStated() {
		own, err := setting.Frame(job)
		if err != nil {
			return f, err
		}
		if f, err = own.In(f.CRS.ID()); err != nil {
			return f, err
		}
	}
	return f, f.CRS.Writable()
}

// openSQLite opens a file for one writer. The file is still under its temporary
// name, or the caller's transaction guards it.
func openSQLite(path string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", "file:"+sqlitePath(path)+"?_pragma=foreign_keys(1)&_pragma=busy_timeout(5000)")
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return db, nil
}

func inTransaction(ctx context.Context, db *sql.DB, do func(*sql.Tx) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := do(tx); err != nil {
		tx.Rollback()
		return err
	}
	return tx.Commit()
}

// writer writes within one transaction.
type writer struct {
	tx    *sql.Tx
	frame geo.Frame
	stamp string // of everything that wants a time
}

// stamp is a day in the form of requirement 15.
func stamp(date string) string {
	if date == "" {
		date = "1970-01-01"
	}
	return date + "T00:00:00.000Z"
}

func (p *writer) steps(steps ...func() error) error {
	for _, do := range steps {
		if err := do(); err != nil {
			return err
		}
	}
	return nil
}

func (p *writer) exec(query string, args ...any) error {
	_, err := p.tx.Exec(query, args...)
	if err != nil {
		return fmt.Errorf("%w in %.60s", err, query)
	}
	return nil
}

// put writes a job under a key, in the order of layers.
func (p *writer) put(s *trace.Sheet, key string) error {
	if err := p.putViews(); err != nil {
		return err
	}
	if err := p.putJob(s, key); err != nil {
		return err
	}
	placer := place.NewPlacer(s.Plane, p.frame)
	for _, t := range layer.AllWithVertices() {
		if err := p.putFeatures(s, t, key, placer); err != nil {
			return fmt.Errorf("%s: %w", t.Role, err)
		}
	}
	return nil
}

func (p *writer) putFeatures(s *trace.Sheet, l layer.Layer, key string, placer place.Placer) error {
	insert, err := p.tx.Prepare(insertSQL(l))
	if err != nil {
		return err
	}
	defer insert.Close()
	index, err := p.tx.Prepare(`INSERT INTO "rtree_` + l.Role + `_geom" VALUES (?,?,?,?,?)`)
	if err != nil {
		return err
	}
	defer index.Close()
	var args []any
	var blob []byte
	for f := range l.Each(s) {
		g, ok, err := featuretable.Place(l, f, placer)
		if err != nil {
			return fmt.Errorf("line %q: %w", f.Line, err)
		}
		args = append(args[:0], nil, key, l.Role, f.Line, string(style.Of(f.Utility).Utility))
		if ok {
			blob = g.AppendGPKG(blob[:0], p.frame.CRS.Code)
			args[0] = blob
		}
		for i, c := range l.Columns {
			args = append(args, sqlValue(c, f.Values[i]))
		}
		res, err := insert.Exec(args...)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		fid, err := res.LastInsertId()
		if err != nil {
			return err
		}
		lo, hi := g.Bounds()
		if _, err := index.Exec(fid, lo.X, hi.X, lo.Y, hi.Y); err != nil {
			return err
		}
	}
	return p.updateExtent(l)
}

// updateExtent sets the extent of a table in gpkg_contents.
func (p *writer) updateExtent(l layer.Layer) error {
	var lo, hi [2]sql.NullFloat64
	row := p.tx.QueryRow(`SELECT MIN(minx), MIN(miny), MAX(maxx), MAX(maxy) FROM "rtree_` + l.Role + `_geom"`)
	if err := row.Scan(&lo[0], &lo[1], &hi[0], &hi[1]); err != nil {
		return err
	}
	tables := []string{l.Role}
	if l.Role == trace.RoleCenterline {
		for _, v := range views {
			tables = append(tables, v.name)
		}
	}
	for _, table := range tables {
		if err := p.exec(`UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ?, last_change = ? WHERE table_name = ?`,
			lo[0], lo[1], hi[0], hi[1], p.stamp, table); err != nil {
			return err
		}
	}
	return nil
}

// sqlValue is a value as SQLite takes it.
func sqlValue(c layer.Column, v layer.Value) any {
	if !v.Known {
		return nil
	}
	switch c.Type {
	case layer.TypeText:
		if c.Instant {
			return instantText(v.Text)
		}
		return v.Text
	case layer.TypeReal:
		return literal.Round(v.Num, c.Decimals)
	case layer.TypeInteger, layer.TypeBoolean:
		return int64(v.Num)
	}
	return string(layer.AppendJSON(nil, c, v))
}
