//go:build unix

package disk

import (
	"fmt"
	"os"
	"syscall"
)

// Lock makes sure that one process uses the folder. The lock goes with
// the process, however it ends.
func Lock(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: another loamline serve uses this folder: stop it or choose another one with --data", path)
	}
	return f, nil
}
