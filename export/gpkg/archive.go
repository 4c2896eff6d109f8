package gpkg

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"loamline/export/archive"
	"loamline/export/featuretable"
	"loamline/export/layer"
	"loamline/export/literal"
	"loamline/export/words"
	"loamline/geo"
	"loamline/trace"
)

// archiveFile is an archive in one GeoPackage, without a server.
type archiveFile struct {
	db    *sql.DB
	path  string
	empty bool // made by this run, and nothing was kept in it yet
}

func OpenArchive(ctx context.Context, path string) (archive.Archive, error) {
	_, err := os.Stat(path)
	isNew := os.IsNotExist(err)
	if isNew {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return nil, fmt.Errorf("archive %s: %w", path, err)
		}
	}
	db, err := openSQLite(path)
	if err != nil {
		return nil, fmt.Errorf("archive %s: %w", path, err)
	}
	a := &archiveFile{db, path, isNew}
	if isNew {
		err = inTransaction(ctx, db, func(tx *sql.Tx) error {
			p, err := archivePackage(tx, "")
			if err != nil {
				return err
			}
			return p.steps(p.create, p.createTriggers)
		})
	} else {
		err = a.check(ctx)
	}
	if err != nil {
		db.Close()
		if isNew {
			os.Remove(path)
		}
		return nil, fmt.Errorf("archive %s: %w", path, err)
	}
	return a, nil
}

func archivePackage(tx *sql.Tx, date string) (*writer, error) {
	frame, err := writtenFrame(geo.Frame{}, trace.Job{})
	return &writer{tx: tx, frame: frame, stamp: stamp(date)}, err
}

// check says clearly when a file is another thing than an archive in WGS 84.
func (a *archiveFile) check(ctx context.Context) error {
	var id int
	err := a.db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id)
	if err != nil || id != 0x47504B47 {
		return fmt.Errorf("not a GeoPackage; give another file name: %w", errors.Join(err))
	}
	var srs int
	row := a.db.QueryRowContext(ctx, "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = 'centerline' AND EXISTS (SELECT 1 FROM gpkg_contents WHERE table_name = 'job')")
	if err := row.Scan(&srs); err != nil {
		return fmt.Errorf("a GeoPackage that loamline did not make; give another file name: %w", err)
	}
	if srs != 4326 {
		return fmt.Errorf("its positions are in EPSG:%d; an archive is in EPSG:4326", srs)
	}
	return nil
}

// Close takes an archive away again that was made for a run which then failed.
func (a *archiveFile) Close() error {
	err := a.db.Close()
	if a.empty {
		err = errors.Join(err, os.Remove(a.path))
	}
	return err
}

func (a *archiveFile) Put(ctx context.Context, s *trace.Sheet) error {
	err := inTransaction(ctx, a.db, func(tx *sql.Tx) error {
		p, err := archivePackage(tx, words.JobDate(s))
		if err != nil {
			return err
		}
		return p.steps(
			func() error { return p.mayReplace(s) },
			p.dropTriggers,
			func() error { return p.remove(archive.JobKey(s)) },
			func() error { return p.put(s, archive.JobKey(s)) },
			p.createTriggers,
		)
	})
	if err != nil {
		return fmt.Errorf("archive %s: %w; it is as it was", a.path, err)
	}
	a.empty = false
	return nil
}

// mayReplace looks whether the key is free or the job's own.
func (p *writer) mayReplace(s *trace.Sheet) error {
	var names string
	err := p.tx.QueryRow(`SELECT inputs FROM job WHERE "key" = ?`, archive.JobKey(s)).Scan(&names)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return archive.SameJob(s, strings.Split(names, "\n"))
}

// remove takes a job out, index and metadata included.
func (p *writer) remove(key string) error {
	for _, l := range layer.AllWithVertices() {
		t := `"` + l.Role + `"`
		if err := p.exec(`DELETE FROM "rtree_`+l.Role+`_geom" WHERE id IN (SELECT fid FROM `+t+` WHERE job = ?)`, key); err != nil {
			return err
		}
		if err := p.exec(`DELETE FROM `+t+` WHERE job = ?`, key); err != nil {
			return err
		}
	}
	const ids = `(SELECT metadata_id FROM job WHERE "key" = ?)`
	return p.steps(
		func() error { return p.exec(`DELETE FROM gpkg_metadata_reference WHERE md_file_id IN `+ids, key) },
		func() error { return p.exec(`DELETE FROM gpkg_metadata WHERE id IN `+ids, key) },
		func() error { return p.exec(`DELETE FROM job WHERE "key" = ?`, key) },
	)
}

func (a *archiveFile) Jobs(ctx context.Context) ([]archive.Job, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT "key", name, COALESCE(ticket, ''), COALESCE(date, '') FROM job ORDER BY "key"`)
	if err != nil {
		return nil, fmt.Errorf("archive %s: %w", a.path, err)
	}
	defer rows.Close()
	var out []archive.Job
	for rows.Next() {
		var j archive.Job
		if err := rows.Scan(&j.Key, &j.Name, &j.Ticket, &j.Date); err != nil {
			return nil, err
		}
		out = append(out, j)
	}
	return out, rows.Err()
}

func (a *archiveFile) Near(ctx context.Context, q archive.NearQuery) ([]trace.Record, error) {
	c := archive.NewCells(q)
	var candidates []archive.Line
	for _, e := range c.Extents(q.Plane) {
		found, err := a.within(ctx, e, q.ExceptKey)
		if err != nil {
			return nil, fmt.Errorf("archive %s: %w", a.path, err)
		}
		candidates = append(candidates, found...)
	}
	return archive.NearRecords(q, c, candidates), nil
}

// within asks the spatial index.
func (a *archiveFile) within(ctx context.Context, e archive.Extent, exceptKey string) ([]archive.Line, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT c.job, c.line, c.utility, COALESCE(c.date, ''), c.geom, c.depth_m
	 FROM rtree_centerline_geom r JOIN centerline c ON c.fid = r.id
	 WHERE r.maxx >= ? AND r.minx <= ? AND r.maxy >= ? AND r.miny <= ? AND c.job <> ? ORDER BY c.job, c.line, c.part`,
		e.West, e.East, e.South, e.North, exceptKey)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []archive.Line
	for rows.Next() {
		var l archive.Line
		var blob []byte
		var depths sql.NullString
		if err := rows.Scan(&l.Job, &l.Line, &l.Utility, &l.Date, &blob, &depths); err != nil {
			return nil, err
		}
		if l.Path, err = gpkgLine(blob); err != nil {
			return nil, fmt.Errorf("job %s, line %s: %w", l.Job, l.Line, err)
		}
		l.DepthM = depthList(depths.String)
		out = append(out, l)
	}
	return out, rows.Err()
}

// gpkgLine reads the line in a GeoPackage geometry, whoever wrote it.
func gpkgLine(blob []byte) ([]geo.LonLat, error) {
	if len(blob) < 8 || string(blob[:2]) != "GP" {
		return nil, errors.New("not a GeoPackage geometry")
	}
	envelope := int(blob[3] >> 1 & 7)
	if envelope > 4 {
		return nil, errors.New("a GeoPackage geometry with an unknown envelope")
	}
	header := 8 + []int{0, 32, 48, 48, 64}[envelope]
	if len(blob) < header {
		return nil, errors.New("a GeoPackage geometry that is cut short")
	}
	return featuretable.ReadLine(blob[header:])
}

// depthList reads a JSON list in which what is not known is null.
func depthList(text string) []float64 {
	var list []*float64
	if json.Unmarshal([]byte(text), &list) != nil {
		return nil
	}
	return literal.OrUnknown(list)
}
