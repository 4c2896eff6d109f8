//go:build unix

package export

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// nobody is the user without rights of Linux and the BSDs.
const nobody = 65534

// A folder that may not be written in is told with what to do. The superuser may
// write anywhere, and tries it as another user.
func TestWriteFilesReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	if err := os.Chmod(filepath.Dir(dir), 0o755); err != nil { // TempDir's own is the user's alone
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	if os.Geteuid() == 0 {
		if err := syscall.Seteuid(nobody); err != nil {
			t.Fatal(err)
		}
		defer func() {
			if err := syscall.Seteuid(0); err != nil {
				t.Fatal(err)
			}
		}()
	}
	if _, err := os.ReadDir(dir); err != nil {
		t.Fatalf("the folder is to be seen: %v", err)
	}
	err := WriteFiles([]Output{{Path: path, Write: text("x")}})
	if err == nil || !strings.Contains(err.Error(), "cannot be written: choose another one with --out") {
		t.Errorf("got %v", err)
	}
	if got := folder(t, dir); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
}
