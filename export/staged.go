package export

import (
	"errors"
	"os"
	"path/filepath"
	"sync"

	"loamline.example/export/internal/unfinished"
)

// stagedFile is an output between its temporary name and its own.
type stagedFile struct {
	path, temp string
	backup     string // the file that stood there before, while published
	madeDir    string // topmost folder that was made for it
	published  bool
}

// folders is held while folders are made with a first file in them, and while they
// are taken away again: one that fails must not take them from under another.
var folders sync.Mutex

func newStagedFile(path string) (*stagedFile, error) {
	folders.Lock()
	defer folders.Unlock()
	s := &stagedFile{path: path}
	if err := s.makeDir(filepath.Dir(path)); err != nil {
		return nil, err
	}
	if st, err := os.Stat(path); err == nil && st.IsDir() {
		return nil, unfinished.ErrIsFolder
	}
	f, err := unfinished.Part(path)
	if err != nil {
		s.removeDirs()
		return nil, err
	}
	s.temp = f.Name()
	return s, f.Close()
}

// makeDir makes the folder and remembers the topmost one that was missing.
func (s *stagedFile) makeDir(dir string) error {
	missing := ""
	for d := dir; ; d = filepath.Dir(d) {
		st, err := os.Stat(d)
		if err == nil {
			if !st.IsDir() {
				return unfinished.ErrIsFile
			}
			break
		}
		if !os.IsNotExist(err) {
			return err
		}
		missing = d
		if filepath.Dir(d) == d {
			break
		}
	}
	s.madeDir = missing
	return os.MkdirAll(dir, 0o777)
}

// publish gives the file its own name; what stood there before stays beside it.
func (s *stagedFile) publish() error {
	if st, err := os.Lstat(s.path); err == nil {
		if st.IsDir() {
			return unfinished.ErrIsFolder
		}
		if err := s.backUp(); err != nil {
			return err
		}
	}
	if err := os.Rename(s.temp, s.path); err != nil {
		return err
	}
	s.published = true
	return nil
}

// backUp gives the earlier file a second name, so that there is no moment
// without a map; where the file system has no links, it is moved aside.
func (s *stagedFile) backUp() error {
	f, err := unfinished.Beside(s.path, "old")
	if err != nil {
		return err
	}
	name := f.Name()
	if err := errors.Join(f.Close(), os.Remove(name)); err != nil {
		return err
	}
	if os.Link(s.path, name) != nil {
		if err := os.Rename(s.path, name); err != nil {
			return err
		}
	}
	s.backup = name
	return nil
}

// withdraw undoes publish.
func (s *stagedFile) withdraw() {
	switch {
	case s.backup != "":
		os.Rename(s.backup, s.path)
		// Two names of one file: the rename does nothing, the second name stays.
		os.Remove(s.backup)
	case s.published:
		os.Remove(s.path)
	}
	s.backup, s.published = "", false
}

// keep makes publish final.
func (s *stagedFile) keep() {
	if s.backup != "" {
		os.Remove(s.backup)
		s.backup = ""
	}
	unfinished.End(s.temp)
	s.temp, s.madeDir = "", ""
	// The folder itself too, where the system allows that: a rename that is
	// not on the disk is lost with the power.
	unfinished.SyncFolder(filepath.Dir(s.path))
}

// discard removes what is left of a file that was not kept.
func (s *stagedFile) discard() {
	if s.temp != "" {
		os.Remove(s.temp)
		os.Remove(s.temp + "-journal") // of a database that was stopped
		unfinished.End(s.temp)
	}
	folders.Lock()
	defer folders.Unlock()
	s.removeDirs()
}

// removeDirs takes away the folders that were made, as far as they are empty.
func (s *stagedFile) removeDirs() {
	for d := filepath.Dir(s.path); s.madeDir != "" && len(d) >= len(s.madeDir); d = filepath.Dir(d) {
		if os.Remove(d) != nil || d == s.madeDir {
			break
		}
	}
}
