//go:build !unix

package disk

import (
	"fmt"
	"os"
	"time"
)

// Lock makes sure that one process uses the folder: an open file cannot
// be removed here, so that one left by a crash can be told from one in use.
func Lock(path string) (*os.File, error) {
	if err := os.Remove(path); err != nil && !os.IsNotExist(err) {
		return nil, fmt.Errorf("%s: another loamline serve uses this folder: stop it or choose another one with --data", path)
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	_, err = fmt.Fprintln(f, time.Now().UTC().Format(time.RFC3339))
	return f, err
}
