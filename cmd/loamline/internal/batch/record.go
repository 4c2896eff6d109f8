package batch

import (
	"bytes"
	"encoding/gob"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loamline.example/export"
)

// ownFolder is where a batch keeps, in the folder of outputs, what it needs to go
// on after an interrupt. Who removes it has everything made again.
const ownFolder = ".loamline-batch"

// done is what is kept of a job that is through. It is given its name after the
// last of the outputs that it lists, so it never speaks of files that are not there.
type done struct {
	Print   string   `json:"fingerprint"`      // empty while the outputs are being replaced, or where it cannot be told
	Outputs []string `json:"outputs"`          // base names in the job's folder
	Former  []string `json:"former,omitempty"` // outputs of earlier runs that are to go
	Entry   Entry    `json:"entry"`
}

func (b *run) fittedPath(j Job) string {
	return filepath.Join(b.Out, ownFolder, "lines", filepath.FromSlash(j.Path)+".gob")
}

func (b *run) donePath(j Job) string {
	return filepath.Join(b.Out, ownFolder, "done", filepath.FromSlash(j.Path)+".json")
}

func (b *run) folderOf(j Job) string { return filepath.Join(b.Out, filepath.FromSlash(j.Path)) }

// readFitted reports whether where a job lies is at hand. What cannot be read is as
// good as none: it is made again.
func (b *run) readFitted(j Job, f *fitted) bool {
	text, err := os.ReadFile(b.fittedPath(j))
	return err == nil && gob.NewDecoder(bytes.NewReader(text)).Decode(f) == nil
}

func (b *run) writeFitted(j Job, f *fitted) error {
	return export.WriteFiles([]export.Output{{Path: b.fittedPath(j), Write: func(w io.Writer) error { return gob.NewEncoder(w).Encode(f) }}})
}

func (b *run) readDone(j Job) (done, bool) {
	var d done
	text, err := os.ReadFile(b.donePath(j))
	return d, err == nil && json.Unmarshal(text, &d) == nil
}

func (b *run) doneOutput(j Job, d done) export.Output {
	return export.Output{Path: b.donePath(j), Write: func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", " ")
		return e.Encode(d)
	}}
}

// through reports whether a job's outputs are those that would be made.
func (b *run) through(j Job, d done, print string) bool {
	if print == "" || d.Print != print {
		return false
	}
	for _, name := range d.Outputs {
		if info, err := os.Stat(filepath.Join(b.folderOf(j), name)); err != nil || !info.Mode().IsRegular() {
			return false
		}
	}
	return true
}

// removeFormer takes away what an earlier run wrote for a job and this one does
// not: a sheet of other settings beside a new map would be taken for its own.
func (b *run) removeFormer(j Job, d done) error {
	for _, name := range d.Former {
		if slices.Contains(d.Outputs, name) || name != filepath.Base(name) {
			continue
		}
		if err := os.Remove(filepath.Join(b.folderOf(j), name)); err != nil && !os.IsNotExist(err) {
			return fmt.Errorf("an output of an earlier run is still there: remove it: %w", err)
		}
	}
	return nil
}

// ownOut readies the folder of outputs. One that holds other things is refused:
// they could be inputs, or be written over.
func ownOut(out string, folders []string) error {
	real := realPath(out)
	for _, f := range folders {
		in := realPath(f)
		if in == real || strings.HasPrefix(in, strings.TrimSuffix(real, string(filepath.Separator))+string(filepath.Separator)) {
			return fmt.Errorf("%s: the outputs would come between the inputs in %s: choose another folder with --out", out, f)
		}
	}
	entries, err := os.ReadDir(out)
	if err != nil && !os.IsNotExist(err) {
		return fmt.Errorf("%s: the folder of outputs cannot be read: choose another with --out: %w", out, err)
	}
	own := func(e os.DirEntry) bool { return e.IsDir() && e.Name() == ownFolder }
	if len(entries) > 0 && !slices.ContainsFunc(entries, own) {
		return fmt.Errorf("%s: the folder holds other things than the outputs of a batch: choose an empty or a new one with --out", out)
	}
	if err := os.MkdirAll(filepath.Join(out, ownFolder), 0o777); err != nil {
		return fmt.Errorf("%s: the folder of outputs cannot be made: choose another with --out: %w", out, err)
	}
	return nil
}
