package jobs

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
	return syncDir(filepath.Dir(path))
}

func writeJSON(path string, v any) error {
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		return err
	}
	return writeWhole(path, append(b, '\n'))
}

func readJSON(path string, v any) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	return json.Unmarshal(b, v)
}

// syncDir brings a folder's names to the disk. Systems that cannot do that keep
// the order of renames themselves.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	_ = d.Sync()
	return d.Close()
}

// moveIn gives a finished folder its own name.
func moveIn(from, to string) error {
	if err := syncDir(from); err != nil {
		return err
	}
	if err := os.Rename(from, to); err != nil {
		return err
	}
	return syncDir(filepath.Dir(to))
}
