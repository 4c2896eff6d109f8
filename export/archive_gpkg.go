package export

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// gpkgArchive is an archive in one GeoPackage, without a server.
type gpkgArchive struct {
	db    *sql.DB
	path  string
	empty bool // made by this run, and nothing was kept in it yet
}

func openGeoPackageArchive(ctx context.Context, path string) (Archive, error) {
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
	a := &gpkgArchive{db, path, isNew}
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

func archivePackage(tx *sql.Tx, date string) (*gpkg, error) {
	frame, err := writtenFrame(geo.Frame{}, trace.Job{})
	return &gpkg{tx: tx, frame: frame, stamp: gpkgStamp(date)}, err
}

// check says clearly when a file is another thing than an archive in WGS 84.
func (a *gpkgArchive) check(ctx context.Context) error {
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
func (a *gpkgArchive) Close() error {
	err := a.db.Close()
	if a.empty {
		err = errors.Join(err, os.Remove(a.path))
	}
	return err
}

func (a *gpkgArchive) Put(ctx context.Context, s *trace.Sheet) error {
	err := inTransaction(ctx, a.db, func(tx *sql.Tx) error {
		p, err := archivePackage(tx, JobDate(s))
		if err != nil {
			return err
		}
		return p.steps(
			func() error { return p.mayReplace(s) },
			p.dropTriggers,
			func() error { return p.remove(JobKey(s)) },
			func() error { return p.put(s, JobKey(s)) },
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
func (p *gpkg) mayReplace(s *trace.Sheet) error {
	var names string
	err := p.tx.QueryRow(`SELECT inputs FROM job WHERE "key" = ?`, JobKey(s)).Scan(&names)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return sameJob(s, strings.Split(names, "\n"))
}

// remove takes a job out, index and metadata included.
func (p *gpkg) remove(key string) error {
	for _, l := range gpkgTables() {
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

func (a *gpkgArchive) Jobs(ctx context.Context) ([]ArchivedJob, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT "key", name, COALESCE(ticket, ''), COALESCE(date, '') FROM job ORDER BY "key"`)
	if err != nil {
		return nil, fmt.Errorf("archive %s: %w", a.path, err)
	}
	defer rows.Close()
	var out []ArchivedJob
	for rows.Next() {
		var j ArchivedJob
		if err := rows.Scan(&j.Key, &j.Name, &j.Ticket, &j.Date); err != nil {
			return nil, err
		}
		out = append(out, j)
	}
	return out, rows.Err()
}

func (a *gpkgArchive) Near(ctx context.Context, q NearQuery) ([]trace.Record, error) {
	c := newCells(q)
	var candidates []archivedLine
	for _, e := range c.extents(q.Plane) {
		found, err := a.within(ctx, e, q.ExceptKey)
		if err != nil {
			return nil, fmt.Errorf("archive %s: %w", a.path, err)
		}
		candidates = append(candidates, found...)
	}
	return nearRecords(q, c, candidates), nil
}

// within asks the spatial index.
func (a *gpkgArchive) within(ctx context.Context, e extent, exceptKey string) ([]archivedLine, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT c.job, c.line, c.utility, COALESCE(c.date, ''), c.geom, c.depth_m
	 FROM rtree_centerline_geom r JOIN centerline c ON c.fid = r.id
	 WHERE r.maxx >= ? AND r.minx <= ? AND r.maxy >= ? AND r.miny <= ? AND c.job <> ? ORDER BY c.job, c.line, c.part`,
		e.west, e.east, e.south, e.north, exceptKey)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []archivedLine
	for rows.Next() {
		var l archivedLine
		var blob []byte
		var depths sql.NullString
		if err := rows.Scan(&l.job, &l.line, &l.utility, &l.date, &blob, &depths); err != nil {
			return nil, err
		}
		if l.path, err = gpkgLine(blob); err != nil {
			return nil, fmt.Errorf("job %s, line %s: %w", l.job, l.line, err)
		}
		l.depthM = depthList(depths.String)
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
	return wkbLine(blob[header:])
}

// depthList reads a JSON list in which what is not known is null.
func depthList(text string) []float64 {
	var list []*float64
	if json.Unmarshal([]byte(text), &list) != nil {
		return nil
	}
	return orUnknown(list)
}
