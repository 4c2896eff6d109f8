package door

import (
	"fmt"
	"os"
	"runtime"
)

// SecretFile refuses a file of secrets that others on this computer can read.
func SecretFile(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if mode := info.Mode().Perm(); runtime.GOOS != "windows" && mode&0o007 != 0 {
		return fmt.Errorf("%s: everybody on this computer can read or change it (%04o): it holds secrets, run chmod 600 %s", path, mode, path)
	}
	return nil
}
