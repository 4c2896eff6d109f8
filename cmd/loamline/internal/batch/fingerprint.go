package batch

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// fingerprint is the SHA-256 of parts, each told apart from the next.
func fingerprint(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d:%s\n", len(p), p)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// beside are the endings of files that belong to a reference layer.
var beside = []string{".dbf", ".prj", ".cpg"}

// inputPrints is the fingerprint of every input of a job by its kind and name, in
// the order in which they are read. What is in a database cannot be told without
// reading it: known is false then, and the job is made each time.
func inputPrints(ctx context.Context, in intake.LoadOptions) (prints []string, known bool, err error) {
	known = true
	add := func(kind string, f intake.File) {
		if err == nil {
			err = ctx.Err()
		}
		if err != nil {
			return
		}
		var sum string
		if sum, err = printOf(ctx, f); err == nil {
			prints = append(prints, kind+" "+f.Name+" "+sum)
		}
	}
	for _, f := range in.Tables {
		add("table", f)
	}
	for _, f := range in.GNSSLogs {
		add("log", f)
	}
	for _, r := range in.References {
		if r.Database != "" {
			known = false
			continue
		}
		add("reference", r.File)
		for _, ending := range beside {
			if r.Beside == nil {
				break
			}
			if f, there := r.Beside(ending); there {
				add("reference", f)
			}
		}
	}
	if in.Underlay != nil {
		add("underlay", *in.Underlay)
		for _, f := range intake.WorldFiles(*in.Underlay) {
			add("underlay", f)
		}
	}
	if in.JobInput != nil {
		add("job file", *in.JobInput)
	}
	return prints, known, err
}

func printOf(ctx context.Context, f intake.File) (string, error) {
	r, err := f.Open()
	if err != nil {
		return "", err
	}
	defer r.Close()
	h := sha256.New()
	if _, err := io.Copy(h, reader{ctx, r}); err != nil {
		return "", fmt.Errorf("%s: %w", f.Name, err)
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// reader ends with its context.
type reader struct {
	ctx context.Context
	r   io.Reader
}

// Read implements io.Reader.
func (r reader) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.r.Read(p)
}

// unchanged fails where a file that was read is not the one that was fingerprinted.
func unchanged(prints []string, known bool, read []trace.Input) error {
	for _, in := range read {
		found := false
		for _, p := range prints {
			found = found || strings.HasSuffix(p, " "+in.Name+" "+in.SHA256)
		}
		if !found && (known || in.Kind != trace.InputReference) {
			return fmt.Errorf("%s: the file changed while it was read: run the batch again when nobody writes to it", in.Name)
		}
	}
	return nil
}
