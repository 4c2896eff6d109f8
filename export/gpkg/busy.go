package gpkg

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"modernc.org/sqlite"

	"loamline.example/export/internal/unfinished"
)

// Another writer of an archive is done within seconds; what holds it for longer
// is a desktop program with an edit open, which a person has to close.
const (
	longestWait = 5 * time.Minute
	askAgain    = 20 * time.Millisecond
)

var errArchiveBusy = errors.New("another program has held it for five minutes: close the desktop program that edits it, and run again")

// openArchiveFile opens a file that others may be writing. A transaction asks
// for the right to write at its start, so that what it has read stays true.
func openArchiveFile(path string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", "file:"+sqlitePath(path)+"?_txlock=immediate&_pragma=foreign_keys(1)&_pragma=busy_timeout(100)")
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return db, nil
}

// isBusy reports whether a file is held by another writer.
func isBusy(err error) bool {
	const busy, locked = 5, 6 // SQLITE_BUSY, SQLITE_LOCKED, in the low byte
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code()&0xff == busy || e.Code()&0xff == locked)
}

// isReadOnly reports whether a file cannot be written.
func isReadOnly(err error) bool {
	const readOnly = 8 // SQLITE_READONLY, in the low byte
	var e *sqlite.Error
	return errors.As(err, &e) && e.Code()&0xff == readOnly
}

// waiting does something again until the file is free.
func waiting(ctx context.Context, do func() error) error {
	for end := time.Now().Add(longestWait); ; {
		err := do()
		if !isBusy(err) {
			return err
		}
		if time.Now().After(end) {
			return fmt.Errorf("%w (%w)", errArchiveBusy, err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(askAgain):
		}
	}
}

// read does something with the file, and nothing where there is none yet.
func (a *archiveFile) read(ctx context.Context, do func() error) error {
	if a.db == nil {
		if err := a.open(ctx); err != nil || a.db == nil {
			return a.told(err)
		}
	}
	return a.told(waiting(ctx, do))
}

// write changes the file in one transaction, or leaves it as it was.
func (a *archiveFile) write(ctx context.Context, date string, do func(*writer) error) error {
	return waiting(ctx, func() error {
		return inTransaction(ctx, a.db, func(tx *sql.Tx) error {
			p, err := archivePackage(tx, date)
			if err != nil {
				return err
			}
			if err := p.needArchive(); err != nil {
				return err
			}
			return p.steps(p.dropTriggers, p.addColumns, func() error { return do(p) }, p.createTriggers)
		})
	})
}

func (a *archiveFile) told(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("archive %s: %w", a.path, err)
}

// create makes the file with a first job in it, under another name, and gives it
// its own only if none has come there meanwhile. It reports whether it did.
func (a *archiveFile) create(ctx context.Context, fill func(*writer) error) (bool, error) {
	if err := os.MkdirAll(filepath.Dir(a.path), 0o777); err != nil {
		return false, err
	}
	unfinished.Sweep(filepath.Dir(a.path))
	f, err := unfinished.Part(a.path)
	if err != nil {
		return false, err
	}
	temp := f.Name()
	defer func() {
		os.Remove(temp)
		unfinished.End(temp)
	}()
	if err := f.Close(); err != nil {
		return false, err
	}
	made := &archiveFile{path: temp}
	if made.db, err = openArchiveFile(temp); err != nil {
		return false, err
	}
	err = made.write(ctx, "", fill)
	if err = errors.Join(err, made.Close()); err != nil {
		return false, err
	}
	err = os.Link(temp, a.path)
	if err == nil {
		unfinished.SyncFolder(filepath.Dir(a.path))
		return true, nil
	}
	if !os.IsExist(err) {
		// A file system without links: an empty file, which is filled in place
		// under the lock that every writer takes.
		f, err := os.OpenFile(a.path, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return false, err
		}
		return false, f.Close()
	}
	return false, nil
}

// needFolder reports whether a file's folder is there or could be made.
func needFolder(path string) error {
	for d := filepath.Dir(path); ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
		if err == nil && !info.IsDir() {
			return unfinished.ErrIsFile
		}
		if err == nil || !os.IsNotExist(err) || d == filepath.Dir(d) {
			return err
		}
	}
}
