package gpkg

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"strings"

	"loamline.example/export/archive"
	"loamline.example/export/layer"
	"loamline.example/trace"
)

func (a *archiveFile) Put(ctx context.Context, s *trace.Sheet) (archive.Kept, error) {
	v, err := archive.RowOf(s)
	if err != nil {
		return archive.Kept{}, a.asItWas(err)
	}
	var kept archive.Kept
	put := func(p *writer) error {
		kept = archive.Kept{}
		ledger, err := gpkgLedger(ctx, p.tx)
		if err != nil {
			return err
		}
		at := archive.PlaceIn(ledger, v.ID, v.Base, v.SHA256)
		if kept = at.Kept; at.Unchanged {
			return nil
		}
		changed := ""
		if at.Was != nil {
			if changed, err = p.changesSince(at.Was, v.Settings); err != nil {
				return err
			}
			if err := p.shelve(at.Was); err != nil {
				return err
			}
		}
		p.stamp = stamp(v.Date)
		if err := p.put(s, at.Key); err != nil {
			return err
		}
		v.ID = at.ID
		return p.addVersion(at.Kept, v, changed)
	}
	if err := a.store(ctx, put); err != nil {
		return archive.Kept{}, a.asItWas(err)
	}
	return kept, a.told(a.holds(ctx, kept))
}

// store writes into the file, and makes it where there is none.
func (a *archiveFile) store(ctx context.Context, put func(*writer) error) error {
	if a.db == nil {
		if _, err := os.Stat(a.path); os.IsNotExist(err) {
			made, err := a.create(ctx, put)
			if err != nil {
				return err
			}
			if made {
				return a.open(ctx)
			}
		}
		if err := a.open(ctx); err != nil {
			return err
		}
	}
	return a.write(ctx, "", put)
}

func (a *archiveFile) asItWas(err error) error {
	return fmt.Errorf("archive %s: %w; it is as it was", a.path, err)
}

// holds looks with other eyes whether the file at the path has a version: who
// moved or replaced the file meanwhile has taken the job with it.
func (a *archiveFile) holds(ctx context.Context, k archive.Kept) error {
	fresh := &archiveFile{path: a.path}
	defer fresh.Close()
	there := false
	err := fresh.read(ctx, func() error {
		return fresh.db.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM archive_version WHERE "key" = ? AND version = ?)`, k.Key, k.Version).Scan(&there)
	})
	if err == nil && !there {
		err = errors.New("the job was written, but the file was replaced meanwhile and does not have it: run again")
	}
	return err
}

// remove takes a job's rows out, index and metadata included.
func (p *writer) remove(key string) error {
	for _, l := range layer.AllWithVertices() {
		t := `"` + l.Role + `"`
		if err := p.exec(`DELETE FROM "rtree_`+l.Role+`_geom" WHERE id IN (SELECT fid FROM `+t+` WHERE job = ?)`, key); err != nil {
			return err
		}
		if err := p.exec(`DELETE FROM `+t+` WHERE job = ?`, key); err != nil {
			return err
		}
		if err := p.updateExtent(l); err != nil {
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
	var out []archive.Job
	err := a.read(ctx, func() error {
		out = nil
		rows, err := a.db.QueryContext(ctx, `SELECT "key", name, ticket, COALESCE(date, ''), version, NOT present FROM archive_version v
		 WHERE version = (SELECT MAX(version) FROM archive_version w WHERE w."key" = v."key") ORDER BY "key"`)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var j archive.Job
			if err := rows.Scan(&j.Key, &j.Name, &j.Ticket, &j.Date, &j.Version, &j.Removed); err != nil {
				return err
			}
			out = append(out, j)
		}
		return rows.Err()
	})
	return out, err
}

func (a *archiveFile) Versions(ctx context.Context, key string) ([]archive.Version, error) {
	var out []archive.Version
	err := a.read(ctx, func() error {
		out = nil
		rows, err := a.db.QueryContext(ctx, `SELECT "key", name, ticket, COALESCE(date, ''), version, NOT present, COALESCE(strftime('%Y-%m-%dT%H:%M:%SZ', kept_at), ''), changed, stated, files, settings
		 FROM archive_version WHERE "key" = ? ORDER BY version DESC`, key)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var v archive.Version
			var stated, files string
			if err := rows.Scan(&v.Key, &v.Name, &v.Ticket, &v.Date, &v.Version, &v.Removed, &v.KeptAt, &v.Changed, &stated, &files, &v.Settings); err != nil {
				return err
			}
			v.Identity = archive.IdentityWords(stated, strings.Fields(files))
			out = append(out, v)
		}
		return rows.Err()
	})
	if err == nil && len(out) == 0 {
		err = archive.NoSuchJob(key)
	}
	return out, err
}

func (a *archiveFile) Map(ctx context.Context, key string, version int) ([]byte, error) {
	var packed []byte
	found := false
	err := a.read(ctx, func() error {
		err := a.db.QueryRowContext(ctx, `SELECT geojson FROM archive_version WHERE "key" = ? AND version = ?`, key, version).Scan(&packed)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		found = err == nil
		return err
	})
	switch {
	case err != nil:
		return nil, err
	case !found:
		return nil, archive.NoSuchVersion(key, version)
	}
	return archive.UnpackMap(key, version, packed)
}

func (a *archiveFile) Remove(ctx context.Context, key string) error {
	return a.change(ctx, func(p *writer) error {
		k, err := p.newest(ctx, key)
		if err != nil {
			return err
		}
		if !k.Present {
			return archive.TakenOut(key)
		}
		return p.shelve(k)
	})
}

func (a *archiveFile) Restore(ctx context.Context, key string, version int) (archive.Kept, error) {
	var kept archive.Kept
	err := a.change(ctx, func(p *writer) error {
		k, err := p.newest(ctx, key)
		if err != nil {
			return err
		}
		var there bool
		if kept, there = archive.Restored(k, version); there {
			return nil
		}
		return p.restore(k, version)
	})
	if err != nil {
		return archive.Kept{}, err
	}
	return kept, a.told(a.holds(ctx, kept))
}

// change writes into an archive that has to be there.
func (a *archiveFile) change(ctx context.Context, do func(*writer) error) error {
	if a.db == nil {
		if err := a.open(ctx); err != nil {
			return a.told(err)
		}
		if a.db == nil {
			return a.told(os.ErrNotExist)
		}
	}
	if err := a.write(ctx, "", do); err != nil {
		return a.asItWas(err)
	}
	return nil
}

// newest returns a job's entry in the ledger.
func (p *writer) newest(ctx context.Context, key string) (*archive.Entry, error) {
	ledger, err := gpkgLedger(ctx, p.tx)
	if err != nil {
		return nil, err
	}
	return archive.EntryOf(ledger, key)
}
