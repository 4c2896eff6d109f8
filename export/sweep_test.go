package export

import (
	"fmt"
	"io"
	"path/filepath"
	"sync"
	"testing"
)

// Jobs that are written into one folder at the same time leave each other's files
// alone, at whatever moment one looks there for what killed programs left.
func TestWritersOfOneFolderAtOnce(t *testing.T) {
	dir := t.TempDir()
	var wg sync.WaitGroup
	for w := range 4 {
		wg.Go(func() {
			for i := range 300 {
				path := filepath.Join(dir, fmt.Sprintf("%d-%d", w, i%3))
				if err := WriteFiles([]Output{{Path: path, Write: func(to io.Writer) error { _, err := io.WriteString(to, "whole"); return err }}}); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	wg.Wait()
}

// One that fails takes the folders that it made away again, and not from under
// another that is about to write there.
func TestOneFailsWhileAnotherWrites(t *testing.T) {
	dir := t.TempDir()
	for i := range 300 {
		shared := filepath.Join(dir, fmt.Sprint(i), "deep")
		var wg sync.WaitGroup
		for w := range 3 {
			wg.Go(func() {
				err := WriteFiles([]Output{{Path: filepath.Join(shared, fmt.Sprint(w)), Write: func(to io.Writer) error {
					if w > 0 {
						return io.ErrClosedPipe
					}
					return nil
				}}})
				if (err != nil) != (w > 0) {
					t.Errorf("writer %d: %v", w, err)
				}
			})
		}
		wg.Wait()
	}
}
