package outputs

import (
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"strings"

	"loamline.example/trace/intake"
)

// packed says which outputs are kept packed: all but those that are packed in
// themselves, or small.
func packed(key string, bytes int64) bool { return bytes > 64<<10 && !strings.HasSuffix(key, "pdf") }

// Pack notes an output's size and sum, and packs it where that saves room.
func (o *File) Pack(ctx context.Context, dir string) (err error) {
	path := filepath.Join(dir, outputFile(o.Key))
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	h := sha256.New()
	o.Bytes = info.Size()
	from := io.TeeReader(intake.ReaderUntil(ctx, f), h)
	if o.Packed = packed(o.Key, o.Bytes); !o.Packed {
		_, err = io.Copy(io.Discard, from)
	} else if err = packInto(path+".gz", from); err == nil {
		err = os.Remove(path)
	}
	o.SHA256 = hex.EncodeToString(h.Sum(nil))
	return err
}

func packInto(path string, from io.Reader) error {
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	z, err := gzip.NewWriterLevel(to, gzip.BestSpeed)
	if err == nil {
		_, err = io.Copy(z, from)
	}
	if err == nil {
		err = z.Close()
	}
	if err == nil {
		err = to.Sync()
	}
	return errors.Join(err, to.Close())
}

// ErrAltered is why a stored file is not handed out: it is not what was stored.
var ErrAltered = errors.New("a stored file was altered or truncated on the disk")

// Whole opens a file that was read to its end before: whoever takes it gets all of
// it as it was stored, or is told, and never finds out in the middle.
func Whole(ctx context.Context, open func() (io.ReadCloser, error)) (io.ReadCloser, error) {
	f, err := open()
	if err != nil {
		return nil, err
	}
	_, err = io.Copy(io.Discard, intake.ReaderUntil(ctx, f))
	if err = errors.Join(err, f.Close()); err != nil {
		return nil, err
	}
	return open()
}

// Open opens an output in a folder as it was written. Reading it to its end is an
// error where it is not what was stored.
func Open(dir string, o File) (io.ReadCloser, error) {
	path := filepath.Join(dir, outputFile(o.Key))
	if !o.Packed {
		return OpenPlain(path, o)
	}
	f, err := os.Open(path + ".gz")
	if err != nil {
		return nil, err
	}
	z, err := gzip.NewReader(f)
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w: %w", o.Key, ErrAltered, err)
	}
	return &checkedFile{file: f, from: z, hash: sha256.New(), want: o}, nil
}

// checkedFile compares what is read with what was stored.
type checkedFile struct {
	file io.Closer
	from io.Reader
	hash hash.Hash
	read int64
	want File
}

func (c *checkedFile) Read(p []byte) (int, error) {
	n, err := c.from.Read(p)
	c.hash.Write(p[:n])
	c.read += int64(n)
	switch {
	case err == nil, c.want.SHA256 == "" && errors.Is(err, io.EOF): // an older version noted no sums
		return n, err
	case errors.Is(err, io.EOF) && c.read == c.want.Bytes && hex.EncodeToString(c.hash.Sum(nil)) == c.want.SHA256:
		return n, err
	}
	return n, fmt.Errorf("%s: %w: %w", c.want.Key, ErrAltered, err)
}

func (c *checkedFile) Close() error { return c.file.Close() }

// OpenPlain opens a file that is not packed; reading it to its end is an error where it is
// not what was stored.
func OpenPlain(path string, want File) (io.ReadCloser, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	return &checkedFile{file: f, from: f, hash: sha256.New(), want: want}, nil
}
