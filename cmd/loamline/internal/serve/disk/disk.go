// Package disk brings files to the disk so that they are there whole or not at all, also after
// a crash, and tells what is there: how much, and with which sum. It knows nothing of jobs.
package disk

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
)

// writeWhole writes a file so that its name shows either the old content or all
// of the new one, also after a crash.
func writeWhole(path string, content []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return err
	}
	return SyncDir(filepath.Dir(path))
}

// WriteJSON writes a value as a whole file.
func WriteJSON(path string, v any) error {
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		return err
	}
	return writeWhole(path, append(b, '\n'))
}

// ReadJSON reads such a file.
func ReadJSON(path string, v any) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	return json.Unmarshal(b, v)
}

// SyncDir brings a folder's names to the disk. Systems that cannot do that keep
// the order of renames themselves.
func SyncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	_ = d.Sync()
	return d.Close()
}

// MoveIn gives a finished folder its own name.
func MoveIn(from, to string) error {
	if err := SyncDir(from); err != nil {
		return err
	}
	if err := os.Rename(from, to); err != nil {
		return err
	}
	return SyncDir(filepath.Dir(to))
}
