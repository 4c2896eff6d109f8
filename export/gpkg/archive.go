package gpkg

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"github.com/paulmach/orb/encoding/wkb"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/internal/unfinished"
	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/geo"
	"loamline.example/trace"
)

// archiveFile is an archive in one GeoPackage, without a server. The file is made
// whole with the first job in it, so that there is never an empty one.
type archiveFile struct {
	db   *sql.DB // nil while there is no file
	path string
}

// OpenArchive opens the archive in a file, which is made when the first job is put.
func OpenArchive(ctx context.Context, path string) (archive.Archive, error) {
	a := &archiveFile{path: path}
	if err := a.open(ctx); err != nil {
		return nil, fmt.Errorf("archive %s: %w", path, err)
	}
	return a, nil
}

// open opens the file, where there is one.
func (a *archiveFile) open(ctx context.Context) error {
	info, err := os.Stat(a.path)
	if os.IsNotExist(err) {
		return needFolder(a.path)
	}
	if err != nil {
		return err
	}
	if info.IsDir() {
		return unfinished.ErrIsFolder
	}
	db, err := openArchiveFile(a.path)
	if err != nil {
		return err
	}
	if info.Size() > 0 {
		err = waiting(ctx, func() error { return checkArchive(ctx, db) })
	}
	if err != nil {
		db.Close()
		return err
	}
	a.db = db
	return nil
}

func archivePackage(tx *sql.Tx, date string) (*writer, error) {
	frame, err := writtenFrame(geo.Frame{}, trace.Job{})
	return &writer{tx: tx, frame: frame, stamp: stamp(date)}, err
}

// checkArchive says clearly when a file is another thing than an archive in
// WGS 84 that this program knows.
func checkArchive(ctx context.Context, db *sql.DB) error {
	var id int
	err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id)
	if isBusy(err) {
		return err
	}
	if err != nil || id != 0x47504B47 {
		return fmt.Errorf("not a GeoPackage; give another file name: %w", errors.Join(err))
	}
	var srs int
	row := db.QueryRowContext(ctx, "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = 'centerline' AND EXISTS (SELECT 1 FROM gpkg_contents WHERE table_name = 'job')")
	if err := row.Scan(&srs); err != nil {
		return fmt.Errorf("a GeoPackage that loamline did not make; give another file name: %w", err)
	}
	if srs != 4326 {
		return fmt.Errorf("its positions are in EPSG:%d; an archive is in EPSG:4326", srs)
	}
	return needHistory(ctx, db)
}

func (a *archiveFile) Close() error {
	if a.db == nil {
		return nil
	}
	return a.db.Close()
}

func (a *archiveFile) Near(ctx context.Context, q archive.NearQuery) ([]trace.Record, error) {
	c := archive.NewCells(q)
	var candidates []archive.Line
	err := a.read(ctx, func() error {
		candidates = nil
		ledger, err := gpkgLedger(ctx, a.db)
		if err != nil {
			return err
		}
		own := archive.OwnKeys(ledger, q.Except)
		for _, e := range c.Extents(q.Plane) {
			found, err := a.within(ctx, e, own)
			if err != nil {
				return err
			}
			if err := a.frameDoubts(ctx, e, found); err != nil {
				return err
			}
			candidates = append(candidates, found...)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return archive.NearRecords(q, c, candidates), nil
}

// within asks the spatial index.
func (a *archiveFile) within(ctx context.Context, e archive.Extent, own map[string]bool) ([]archive.Line, error) {
	rows, err := a.db.QueryContext(ctx, `SELECT c.job, c.line, c.utility, COALESCE(c.date, ''), c.geom, c.depth_m, c.horizontal_95_m
	 FROM rtree_centerline_geom r JOIN centerline c ON c.fid = r.id
	 WHERE r.maxx >= ? AND r.minx <= ? AND r.maxy >= ? AND r.miny <= ? ORDER BY c.job, c.line, c.part`,
		e.West, e.East, e.South, e.North)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []archive.Line
	for rows.Next() {
		var l archive.Line
		var blob []byte
		var depths, bands sql.NullString
		if err := rows.Scan(&l.Job, &l.Line, &l.Utility, &l.Date, &blob, &depths, &bands); err != nil {
			return nil, err
		}
		if own[l.Job] {
			continue
		}
		if l.Path, err = gpkgLine(blob); err != nil {
			return nil, fmt.Errorf("job %s, line %s: %w", l.Job, l.Line, err)
		}
		l.DepthM, l.Horizontal95M = numberList(depths.String), numberList(bands.String)
		out = append(out, l)
	}
	return out, rows.Err()
}

// frameDoubts says of lines how far off their maps may lie for their frames, which their
// zones know.
func (a *archiveFile) frameDoubts(ctx context.Context, e archive.Extent, lines []archive.Line) error {
	if len(lines) == 0 {
		return nil
	}
	rows, err := a.db.QueryContext(ctx, `SELECT z.job, z.line, MAX(z.datum_doubt_m)
	 FROM rtree_caution_zone_geom r JOIN caution_zone z ON z.fid = r.id
	 WHERE r.maxx >= ? AND r.minx <= ? AND r.maxy >= ? AND r.miny <= ? AND z.datum_doubt_m > 0 GROUP BY z.job, z.line`,
		e.West, e.East, e.South, e.North)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var job, line string
		var offM float64
		if err := rows.Scan(&job, &line, &offM); err != nil {
			return err
		}
		for k := range lines {
			if lines[k].Job == job && lines[k].Line == line {
				lines[k].FrameDoubtM = offM
			}
		}
	}
	return rows.Err()
}

// gpkgLine reads the line in a GeoPackage geometry, whoever wrote it.
func gpkgLine(blob []byte) ([]geo.LonLat, error) {
	body, err := gpkgBody(blob)
	if err != nil {
		return nil, err
	}
	return featuretable.ReadLine(body)
}

// gpkgBody is the well-known binary behind a GeoPackage geometry's header.
func gpkgBody(blob []byte) ([]byte, error) {
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
	return blob[header:], nil
}

// gpkgBounds returns the extent of a GeoPackage geometry.
func gpkgBounds(blob []byte) (lo, hi place.XY, err error) {
	body, err := gpkgBody(blob)
	if err != nil {
		return lo, hi, err
	}
	g, err := wkb.Unmarshal(body)
	if err != nil {
		return lo, hi, err
	}
	b := g.Bound()
	return place.XY{X: b.Min[0], Y: b.Min[1]}, place.XY{X: b.Max[0], Y: b.Max[1]}, nil
}

// numberList reads a JSON list in which what is not known is null.
func numberList(text string) []float64 {
	var list []*float64
	if json.Unmarshal([]byte(text), &list) != nil {
		return nil
	}
	return literal.OrUnknown(list)
}
