package gpkg

import (
	"bytes"
	"compress/gzip"
	"database/sql"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"loamline.example/export/archive"
	"loamline.example/export/layer"
	"loamline.example/export/place"
)

// restore makes an earlier version the newest, under a number of its own.
func (p *writer) restore(k *archive.Entry, version int) error {
	var settings string
	err := p.tx.QueryRow(`SELECT settings FROM archive_version WHERE "key" = ? AND version = ?`, k.Key, version).Scan(&settings)
	if errors.Is(err, sql.ErrNoRows) {
		return archive.NoSuchVersion(k.Key, version)
	}
	if err != nil {
		return err
	}
	if err := p.shelve(k); err != nil {
		return err
	}
	pieces, err := p.shelved(k.Key, version)
	if err != nil {
		return err
	}
	for _, id := range pieces {
		if err := p.takeBack(id, settings); err != nil {
			return err
		}
	}
	for _, l := range layer.AllWithVertices() {
		if err := p.indexAgain(l, k.Key); err != nil {
			return err
		}
	}
	return p.exec(`INSERT INTO archive_version ("key", version, present, base, name, ticket, date, stated, files, exact, kept_at, changed, settings, sha256, geojson)
	 SELECT "key", ?, 1, base, name, ticket, date, stated, files, exact, ?, ?, settings, sha256, geojson
	 FROM archive_version WHERE "key" = ? AND version = ?`,
		k.Version+1, instantText(archive.Now()), fmt.Sprintf("version %d restored", version), k.Key, version)
}

// shelved lists the pieces of a version.
func (p *writer) shelved(key string, version int) ([]int64, error) {
	rows, err := p.tx.Query(`SELECT id FROM archive_rows WHERE "key" = ? AND version = ? ORDER BY id`, key, version)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []int64
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		out = append(out, id)
	}
	return out, rows.Err()
}

// takeBack puts the rows of a piece into their table.
func (p *writer) takeBack(piece int64, settings string) error {
	var role string
	var packed []byte
	if err := p.tx.QueryRow(`SELECT role, rows FROM archive_rows WHERE id = ?`, piece).Scan(&role, &packed); err != nil {
		return err
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return err
	}
	dec := json.NewDecoder(z)
	dec.UseNumber()
	var s shelf
	if err := dec.Decode(&s); err != nil {
		return err
	}
	insert, err := p.tx.Prepare(`INSERT INTO "` + role + `" ("` + strings.Join(s.Columns, `", "`) + `") VALUES (?` + strings.Repeat(", ?", len(s.Columns)-1) + `)`)
	if err != nil {
		return err
	}
	defer insert.Close()
	for _, row := range s.Rows {
		for i, v := range row {
			if row[i], err = stored(v); err != nil {
				return err
			}
			if role == "job" && s.Columns[i] == "metadata_id" {
				if row[i], err = p.putMetadata(settings); err != nil {
					return err
				}
			}
			if text, ok := row[i].(string); ok && instants[role+"."+s.Columns[i]] {
				row[i] = instantText(text) // as an older program shelved it
			}
		}
		if _, err := insert.Exec(row...); err != nil {
			return err
		}
	}
	return nil
}

// stored is a shelved value as SQLite had it.
func stored(v any) (any, error) {
	switch v := v.(type) {
	case json.Number:
		if n, err := v.Int64(); err == nil {
			return n, nil
		}
		return v.Float64()
	case map[string]any:
		text, _ := v["blob"].(string)
		return base64.StdEncoding.DecodeString(text)
	}
	return v, nil
}

// indexAgain enters a job's rows in the spatial index.
func (p *writer) indexAgain(l layer.Layer, key string) error {
	type entry struct {
		fid    int64
		lo, hi place.XY
	}
	rows, err := p.tx.Query(`SELECT fid, geom FROM "`+l.Role+`" WHERE job = ? AND geom IS NOT NULL`, key)
	if err != nil {
		return err
	}
	var entries []entry
	for rows.Next() {
		var e entry
		var blob []byte
		if err = rows.Scan(&e.fid, &blob); err == nil {
			e.lo, e.hi, err = gpkgBounds(blob)
		}
		if err != nil {
			rows.Close()
			return err
		}
		entries = append(entries, e)
	}
	if err := rows.Close(); err != nil {
		return err
	}
	for _, e := range entries {
		if err := p.exec(`INSERT INTO "rtree_`+l.Role+`_geom" VALUES (?,?,?,?,?)`, e.fid, e.lo.X, e.hi.X, e.lo.Y, e.hi.Y); err != nil {
			return err
		}
	}
	return p.updateExtent(l)
}
