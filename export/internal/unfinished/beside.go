package unfinished

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
)

// ErrIsFile and ErrIsFolder say what stands in the way.
var (
	ErrIsFile   = errors.New("a file stands where a folder is needed")
	ErrIsFolder = errors.New("a folder stands where a file is needed")
)

// Beside makes an empty file of an unused name in the folder of path. Its
// permissions are those that any new file would get.
func Beside(path, kind string) (*os.File, error) {
	dir, base := filepath.Split(path)
	for i := 0; ; i++ {
		name := dir + "." + base + "." + strconv.Itoa(os.Getpid()) + "-" + strconv.Itoa(i) + "." + kind
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if err == nil || !os.IsExist(err) || i > 1000 {
			return f, err
		}
	}
}

// SyncFolder brings the names in a folder to the disk, where the system allows it.
func SyncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}
