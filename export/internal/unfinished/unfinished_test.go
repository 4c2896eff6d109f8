package unfinished

import (
	"os"
	"path/filepath"
	"testing"
)

// A sweep leaves what this program is writing, a database's journal included, and
// takes both once the program is through with them.
func TestSweepLeavesWhatIsBeingWritten(t *testing.T) {
	dir := t.TempDir()
	f, err := Part(filepath.Join(dir, "city.gpkg"))
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	names := []string{f.Name(), f.Name() + "-journal"}
	if err := os.WriteFile(names[1], nil, 0o666); err != nil {
		t.Fatal(err)
	}
	there := func(want bool) {
		t.Helper()
		for _, name := range names {
			if _, err := os.Lstat(name); os.IsNotExist(err) == want {
				t.Errorf("%s is there: %v", filepath.Base(name), !want)
			}
		}
	}
	Sweep(dir)
	there(true)
	End(f.Name())
	Sweep(dir)
	there(false)
}
