package intake

import (
	"database/sql"
	"slices"
	"strings"
)

// gpkgReader reads the features of one layer of a GeoPackage. A city's layer is long
// and a job is short: what lies within reach of the readings is kept alone, found by
// the layer's spatial index where it has one. Where that is nothing, the whole layer
// is, for it may tell why, such as by longitude and latitude swapped.
type gpkgReader struct {
	l  *layerReader
	db *sql.DB
	y  gpkgLayer

	rows int // fetched of the layer
	met  int // of these, within reach
}

func (t *gpkgReader) read(within reach) error {
	near, ok := within.in(t.l.frame)
	if !ok {
		return t.features(nil, false)
	}
	indexed, without, err := t.indexed()
	if err != nil {
		return err
	}
	before := *t.l
	before.skipped = map[string]int{}
	if err := t.features(&near, indexed); err != nil {
		return err
	}
	if t.met == 0 {
		*t.l = before
		return t.features(nil, false)
	}
	if indexed { // what has no geometry is in no index, and is told all the same
		t.l.feature += without
		t.l.skipped["no geometry"] += without
	}
	return nil
}

// indexed reports whether the layer's R-tree (OGC 12-128r17, annex F.3) can be gone
// by. One that has not as many entries as the layer has geometries was left behind by
// a program that does not keep it up, and would hide lines. without is how many
// features have no geometry.
func (t *gpkgReader) indexed() (yes bool, without int, err error) {
	name := t.index()
	there := 0
	if err := t.db.QueryRow(`SELECT COUNT(*) FROM sqlite_master WHERE type = 'table' AND name = ? AND sql LIKE 'CREATE VIRTUAL TABLE%rtree%'`, name).Scan(&there); err != nil || there == 0 {
		return false, 0, err
	}
	var entries, features, geometries int
	err = t.db.QueryRow(`SELECT (SELECT COUNT(*) FROM `+quoted(name+"_rowid")+`), COUNT(*), COUNT(`+quoted(t.y.column)+`) FROM `+quoted(t.y.table)).Scan(&entries, &features, &geometries)
	return entries == geometries && t.numbered(), features - geometries, err
}

// index is the name that the standard gives the layer's R-tree.
func (t *gpkgReader) index() string { return "rtree_" + t.y.table + "_" + t.y.column }

func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// numbered reports whether the rows have numbers of their own; those of a view have not.
func (t *gpkgReader) numbered() bool {
	rows, err := t.db.Query(`SELECT _rowid_ FROM ` + quoted(t.y.table) + ` LIMIT 0`)
	if err != nil {
		return false
	}
	return rows.Close() == nil
}

// querySQL asks for the layer's rows with their numbers, all or those that the index
// has near; both in the order in which they are kept.
func (t *gpkgReader) querySQL(near *box, indexed bool) (query string, args []any) {
	number, order := "NULL", ""
	if t.numbered() {
		number, order = "t._rowid_", " ORDER BY t._rowid_"
	}
	query = `SELECT ` + number + `, t.* FROM ` + quoted(t.y.table) + ` t`
	if indexed {
		query += ` WHERE t._rowid_ IN (SELECT id FROM ` + quoted(t.index()) + ` WHERE maxx >= ? AND minx <= ? AND maxy >= ? AND miny <= ?)`
		args = []any{near.west, near.east, near.south, near.north}
	}
	return query + order, args
}

// features takes the layer's features, row by row; with a box those that meet it and
// those of which that cannot be told.
func (t *gpkgReader) features(near *box, indexed bool) error {
	query, args := t.querySQL(near, indexed)
	rows, err := t.db.Query(query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return err
	}
	values, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		t.rows++
		t.feature(columns[1:], values[1:], values[0], near)
	}
	t.l.number = 0
	return rows.Err()
}

func (t *gpkgReader) feature(columns []string, values []any, number any, near *box) {
	l := t.l
	geometry := slices.IndexFunc(columns, func(name string) bool { return strings.EqualFold(name, t.y.column) })
	s := shape{kind: "no geometry"}
	if blob, _ := values[geometry].([]byte); len(blob) > 0 {
		body, err := gpkgBody(blob)
		if err != nil {
			s = shape{err: err}
		} else {
			if near != nil {
				extent, ok := wkbExtent(body, l.frame)
				if ok && !near.meets(extent) {
					return
				}
				if ok {
					t.met++
				}
			}
			s = wkbShape(body, l.frame, l.ref.Background)
		}
	}
	all := make(map[string]any, len(columns))
	for i, name := range columns {
		if i != geometry {
			all[name] = values[i]
		}
	}
	n, _ := number.(int64)
	l.number = int(n)
	l.take(s, l.fromColumns(all, nil), 0)
}
