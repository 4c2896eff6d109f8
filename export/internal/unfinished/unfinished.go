package unfinished

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"syscall"
)

// names are the files under temporary names that this program is writing.
// The lock is held while files get their own names, which takes no time, so that
// a stop comes before all of them or behind the last.
var names = struct {
	sync.Mutex
	temps map[string]bool
}{temps: map[string]bool{}}

// Publishing does what gives files their own names, and keeps a stop away
// meanwhile.
func Publishing(do func() error) error {
	names.Lock()
	defer names.Unlock()
	return do()
}

// Abandon removes what is being written, for a program that ends at once: from
// then on nothing is given its own name any more. It waits for files that are
// being given theirs.
func Abandon() {
	names.Lock() // and never unlocked
	for name := range names.temps {
		os.Remove(name)
		os.Remove(name + "-journal")
	}
}

// Part makes the empty file under a temporary name in which the file of a path is
// written, until End. It is known before anybody else can see it: a sweep of the
// same program would take it for a leftover.
func Part(path string) (*os.File, error) {
	names.Lock()
	defer names.Unlock()
	f, err := Beside(path, "part")
	if err == nil {
		names.temps[f.Name()] = true
	}
	return f, err
}

// End tells that it is no more: it has its own name, or is gone.
func End(name string) {
	names.Lock()
	defer names.Unlock()
	delete(names.temps, name)
}

// leftover is the name of a file that a program was writing: the output's, the
// number of its process and of its try. A database has a journal beside it.
var leftover = regexp.MustCompile(`^\.(.+)\.(\d+)-\d+\.(part|old)(-journal)?$`)

// Sweep removes from a folder what programs left there that were killed while
// they wrote. An earlier output that had been moved aside gets its name back.
func Sweep(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // the writing itself tells
	}
	for _, e := range entries {
		m := leftover.FindStringSubmatch(e.Name())
		if m == nil || !e.Type().IsRegular() {
			continue
		}
		if pid, err := strconv.Atoi(m[2]); err == nil {
			takeAway(filepath.Join(dir, e.Name()), filepath.Join(dir, m[1]), pid, m[3] == "old" && m[4] == "")
		}
	}
}

// takeAway removes a leftover that nobody is at, or gives what had been moved aside its
// own name back. The lock is held until it is gone: this program may take the name anew
// as soon as it has ended with it.
func takeAway(name, own string, pid int, movedAside bool) {
	names.Lock()
	defer names.Unlock()
	if writing(pid, name) {
		return
	}
	if movedAside {
		if _, err := os.Lstat(own); os.IsNotExist(err) {
			os.Rename(name, own)
			return
		}
	}
	os.Remove(name)
}

// writing reports whether a process may be at a file still; names are locked. A file with
// this process's number that it does not write is of an earlier one with that number,
// such as in a container, where all have the same.
func writing(pid int, name string) bool {
	if pid == os.Getpid() {
		return names.temps[strings.TrimSuffix(name, "-journal")]
	}
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, os.ErrPermission) || runtime.GOOS == "windows"
}
