package export

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"syscall"

	"loamline.example/export/internal/unfinished"
)

// Output is one file of a job. Exactly one of Write and WritePath is set:
// Write streams the content, WritePath fills a file that it opens itself, which
// a database needs.
type Output struct {
	Path      string
	Shows     string // what it is in a few words, for lists; of a job's outputs always said
	Write     func(w io.Writer) error
	WritePath func(ctx context.Context, path string) error
}

// WriteFiles writes all outputs of a job or none. Each is written under another
// name in its own folder, brought to the disk, and renamed only when all of
// them are whole; a file that stood there before is kept until then and comes
// back if anything fails. A folder that does not exist is made.
//
// The error names the file and says what to do. It wraps the cause.
func WriteFiles(outputs []Output) error { return WriteFilesContext(context.Background(), outputs) }

// WriteFilesContext is WriteFiles, and writes nothing once the context has ended.
// What earlier programs left in the folders when they were killed is removed.
func WriteFilesContext(ctx context.Context, outputs []Output) (err error) {
	staged := make([]*stagedFile, 0, len(outputs))
	defer func() {
		// Also after a panic in a writer: leave nothing half-written.
		for i := len(staged) - 1; i >= 0; i-- {
			staged[i].discard()
		}
	}()
	seen, swept := map[string]bool{}, map[string]bool{}
	for _, out := range outputs {
		if d := filepath.Dir(out.Path); !swept[d] {
			unfinished.Sweep(d)
			swept[d] = true
		}
		if p := filepath.Clean(out.Path); seen[p] {
			return fmt.Errorf("%s: two outputs have this name; nothing was written", out.Path)
		} else {
			seen[p] = true
		}
		st, err := newStagedFile(out.Path)
		if err != nil {
			return writeError(out.Path, err)
		}
		staged = append(staged, st)
	}
	if err := fillAll(ctx, staged, outputs); err != nil {
		return err
	}
	if err := unfinished.Publishing(func() error { return publishAll(ctx, staged) }); err != nil {
		return err
	}
	for _, st := range staged {
		st.keep()
	}
	return nil
}

// publishAll gives all files their own names, or none.
func publishAll(ctx context.Context, staged []*stagedFile) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	for i, st := range staged {
		if err := st.publish(); err != nil {
			for j := i; j >= 0; j-- {
				staged[j].withdraw()
			}
			return writeError(st.path, err)
		}
	}
	return nil
}

// Abandon removes what is being written, for a program that ends at once: from
// then on nothing is given its own name any more. It waits for files that are
// being given theirs.
func Abandon() { unfinished.Abandon() }

// fillAll writes the contents side by side. A panic in a writer comes out here,
// after the others have stopped.
func fillAll(ctx context.Context, staged []*stagedFile, outputs []Output) error {
	errs, panics := make([]error, len(outputs)), make([]any, len(outputs))
	var wg sync.WaitGroup
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i, out := range outputs {
		turn <- struct{}{}
		wg.Go(func() {
			defer func() { panics[i] = recover(); <-turn }()
			if errs[i] = ctx.Err(); errs[i] == nil {
				errs[i] = staged[i].fill(ctx, out)
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for i := range outputs {
		if panics[i] != nil {
			panic(panics[i])
		}
		if errs[i] != nil {
			return writeError(outputs[i].Path, errs[i])
		}
	}
	return nil
}

// fill writes the content and brings it to the disk.
func (s *stagedFile) fill(ctx context.Context, out Output) error {
	if out.WritePath != nil {
		if err := out.WritePath(ctx, s.temp); err != nil {
			return err
		}
		return syncFile(s.temp)
	}
	f, err := os.OpenFile(s.temp, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	w := bufio.NewWriterSize(f, 1<<18)
	err = out.Write(stoppable{ctx, w}) // in front of the buffer: a writer is told at its next write, not at its next full one
	if err == nil {
		err = w.Flush()
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// stoppable is a writer that fails once its context has ended.
type stoppable struct {
	ctx context.Context
	w   io.Writer
}

// Write implements io.Writer.
func (s stoppable) Write(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.w.Write(p)
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// writeError says what to do about an output that could not be written.
func writeError(path string, err error) error {
	dir := filepath.Dir(path)
	const kept = "; nothing was written, and earlier outputs are as they were"
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("%s: the disk is full: make room or choose another folder with --out%s: %w", path, kept, err)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%s: the folder %s cannot be written: choose another one with --out%s: %w", path, dir, kept, err)
	case errors.Is(err, syscall.ENOTDIR), errors.Is(err, unfinished.ErrIsFile):
		return fmt.Errorf("%s: %s is not a folder: choose another one with --out%s: %w", path, dir, kept, err)
	case errors.Is(err, unfinished.ErrIsFolder):
		return fmt.Errorf("%s: a folder has this name: move it or choose another folder with --out%s: %w", path, kept, err)
	}
	return fmt.Errorf("%s: could not be written%s: %w", path, kept, err)
}
