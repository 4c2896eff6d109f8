package disk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"path/filepath"
	"strings"

	"loamline.example/trace/intake"
)

// Bytes is how much a folder holds.
func Bytes(dir string) int64 {
	var sum int64
	_ = filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return nil // what cannot be seen is not counted
		}
		if info, err := d.Info(); err == nil && !strings.HasPrefix(d.Name(), ".new-") {
			sum += info.Size()
		}
		return nil
	})
	return sum
}

// Sum is the SHA-256 of a file, and how many bytes it has.
func Sum(ctx context.Context, path string) (sum string, n int64, err error) {
	f, err := os.Open(path)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	h := sha256.New()
	n, err = io.Copy(h, intake.ReaderUntil(ctx, f))
	return hex.EncodeToString(h.Sum(nil)), n, err
}
