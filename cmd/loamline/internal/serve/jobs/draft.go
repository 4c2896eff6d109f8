package jobs

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// Draft is an upload under way. Nothing of it is seen until Commit.
type Draft struct {
	// Owner is who hands it in, Group with whom they share it.
	Owner, Group string

	store *Store
	id    string
	dir   string
	files []InputFile
	bytes int64
	rows  int
}

// NewDraft begins an upload.
func (s *Store) NewDraft() (*Draft, error) {
	if err := s.roomFor(1); err != nil {
		return nil, err
	}
	d := &Draft{store: s, id: newID()}
	d.dir = filepath.Join(s.tmp(), "upload-"+d.id)
	// Folder by folder: what lies above is there, or the disk is gone and nothing
	// may be written in its place.
	for _, dir := range []string{d.dir, filepath.Join(d.dir, "inputs")} {
		if err := os.Mkdir(dir, 0o700); err != nil {
			d.Discard() // the first of the two may be there
			return nil, fmt.Errorf("the upload cannot be stored: %w", err)
		}
	}
	return d, nil
}

// Discard removes an upload that was not committed.
func (d *Draft) Discard() { os.RemoveAll(d.dir) }

// TooLarge is a limit that an upload has passed.
type TooLarge struct{ problem.Problem }

func (t *TooLarge) Error() string { return t.Words() }

// Add stores a file as it comes. A file that is empty and has no name, as
// browsers send for a field left empty, is no file.
func (d *Draft) Add(kind Kind, name string, r io.Reader) error {
	name = plainName(name)
	if len(d.files) >= d.store.limits.Files {
		return &TooLarge{problem.Problem{File: name, Cause: fmt.Sprintf("an upload can have %d files", d.store.limits.Files), Hint: "upload several jobs, or put traces of one job into one table"}}
	}
	path := filepath.Join(d.dir, "inputs", strconv.Itoa(len(d.files)))
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("the upload cannot be stored: %w", err)
	}
	h := sha256.New()
	w := &limitedWriter{draft: d, kind: kind, name: name, to: io.MultiWriter(f, h)}
	n, err := io.Copy(w, r)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if n == 0 && name == "" {
		return os.Remove(path)
	}
	if name == "" {
		name = string(kind)
	}
	for _, other := range d.files {
		if other.Name == name {
			return problem.Refuse(problem.Problem{File: name, Cause: "two files have this name", Hint: "give them different names, so that a row can be told by its file"})
		}
	}
	d.files = append(d.files, InputFile{Kind: kind, Name: name, Bytes: n, SHA256: hex.EncodeToString(h.Sum(nil))})
	return nil
}

// TooManyBytes words that an upload is larger than this store takes.
func (s *Store) TooManyBytes(file string) error {
	return &TooLarge{problem.Problem{File: file, Cause: fmt.Sprintf("the upload is larger than %d MB", s.limits.UploadBytes>>20), Hint: "split the job, or have whoever runs this server raise the limit"}}
}

// limitedWriter counts bytes and, of readings tables, lines.
type limitedWriter struct {
	draft *Draft
	kind  Kind
	name  string
	to    io.Writer
}

func (w *limitedWriter) Write(p []byte) (int, error) {
	d := w.draft
	if d.bytes += int64(len(p)); d.bytes > d.store.limits.UploadBytes {
		return 0, d.store.TooManyBytes(w.name)
	}
	if err := d.store.roomFor(d.bytes); err != nil {
		return 0, err
	}
	if w.kind == KindTrace {
		for _, c := range p {
			if c == '\n' {
				d.rows++
			}
		}
		if d.rows > d.store.limits.Rows+16 { // header and comments
			return 0, &TooLarge{problem.Problem{File: w.name, Cause: fmt.Sprintf("the upload has more than %d rows", d.store.limits.Rows), Hint: "split the job, or have whoever runs this server raise the limit"}}
		}
	}
	return w.to.Write(p)
}

// plainName is the last element of a file's name, without characters that do
// not print and no longer than a file name can be.
func plainName(name string) string {
	if i := strings.LastIndexAny(name, `/\`); i >= 0 {
		name = name[i+1:]
	}
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == utf8.RuneError {
			return -1
		}
		return r
	}, name)
	for len(name) > 120 {
		_, n := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-n]
	}
	if name = strings.TrimSpace(name); name == "." || name == ".." {
		return ""
	}
	return name
}

// baseName is a file's name without its ending, for the outputs.
func baseName(name string) string {
	if b := strings.TrimSuffix(name, filepath.Ext(name)); b != "" {
		return b
	}
	return name
}

// safeName keeps what is safe in any file system and header.
func safeName(name string) string {
	s := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_. ", r) {
			return r
		}
		return '_'
	}, name)
	if s = strings.Trim(s, ". "); s == "" {
		return "job"
	}
	return s
}

// Commit checks the files and makes the job appear. What is wrong with them is
// a Refused, and nothing is kept then.
func (d *Draft) Commit(ctx context.Context) (Job, error) {
	defer d.Discard()
	s := d.store
	job := Job{ID: d.id, Created: s.now().UTC().Truncate(1e6), Revision: 1, Owner: d.Owner, Group: d.Group, Files: d.files, Settings: s.Default()}
	if err := d.check(ctx, &job); err != nil {
		return Job{}, err
	}
	if ctx.Err() != nil {
		return Job{}, context.Cause(ctx) // nobody waits for it any more
	}
	if err := disk.SyncDir(filepath.Join(d.dir, "inputs")); err != nil {
		return Job{}, err
	}
	if err := disk.WriteJSON(filepath.Join(d.dir, "job.json"), &job); err != nil {
		return Job{}, fmt.Errorf("the upload cannot be stored: %w", err)
	}
	if err := disk.MoveIn(d.dir, s.path(d.id)); err != nil {
		return Job{}, fmt.Errorf("the upload cannot be stored: %w", err)
	}
	s.used.Add(d.bytes)
	e := newEntry(&job)
	s.mu.Lock()
	s.jobs[job.ID] = e
	s.mu.Unlock()
	s.index.put(e, &job)
	return job, nil
}

// check reads every file as far as can be done before anything is answered.
func (d *Draft) check(ctx context.Context, job *Job) error {
	traces := 0
	for i, f := range d.files {
		switch f.Kind {
		case KindTrace:
			if traces++; traces == 1 && job.Name == "" {
				job.Name = safeName(baseName(f.Name))
			}
		case KindJob:
			if err := d.readJobFile(i, job); err != nil {
				return err
			}
		case KindGNSSLog:
			if err := d.readLayer(ctx, i, nil); err != nil {
				return err
			}
		}
	}
	if traces == 0 {
		return problem.Refuse(problem.Problem{Cause: "there is no readings table in the upload", Hint: "add at least one CSV file of readings"})
	}
	if err := d.references(job); err != nil {
		return err
	}
	said, err := job.Settings.Job()
	if err != nil {
		return problem.RefuseError(err)
	}
	for i, f := range d.files {
		if f.Kind == KindReference {
			r := referenceOf(said, f.Name)
			if err := d.readLayer(ctx, i, &r); err != nil {
				return err
			}
		}
	}
	job.DatumSaid = job.Settings.Datum != ""
	return d.store.understand(ctx, job, d.open)
}

// open is a file of the draft.
func (d *Draft) open(index int) intake.File {
	return fileAt(filepath.Join(d.dir, "inputs", strconv.Itoa(index)), d.files[index])
}

func fileAt(path string, in InputFile) intake.File {
	return intake.File{Name: in.Name, Size: in.Bytes, Open: func() (io.ReadCloser, error) {
		f, err := os.Open(path)
		if err != nil {
			return nil, &disk.NotStored{Err: err}
		}
		return f, nil
	}}
}

func (d *Draft) readJobFile(i int, job *Job) error {
	for _, f := range d.files[:i] {
		if f.Kind == KindJob {
			return problem.Refuse(problem.Problem{File: d.files[i].Name, Cause: "this is a second job file", Hint: "a job has one"})
		}
	}
	r, err := d.open(i).Open()
	if err != nil {
		return err
	}
	defer r.Close()
	read, err := intake.ReadJobFileOver(d.store.office, r, d.files[i].Name)
	if err != nil {
		return problem.RefuseError(err)
	}
	if u := read.Underlay.File; u != "" {
		return problem.Refuse(problem.Problem{File: plainName(u), Field: "underlay", Cause: "the job file names a site plan, and none can be uploaded: it is a picture with its world file",
			Hint: "take [underlay] out of the job file, or make the map with loamline map"})
	}
	job.Settings = jobfile.SettingsOf(read)
	job.Name = safeName(baseName(d.files[i].Name))
	return nil
}

// readLayer makes sure that a reference layer, as the settings have it, or a log
// can be read.
func (d *Draft) readLayer(ctx context.Context, i int, layer *trace.Reference) error {
	release, err := d.store.room.take(ctx, d.files[i].Bytes*layerCost)
	if err != nil {
		return err
	}
	defer release()
	f := d.open(i).Until(ctx)
	if layer != nil {
		err = intake.CheckReference(ctx, intake.ReferenceOf(*layer, func() intake.File { return f }))
	} else {
		err = checkLog(f)
	}
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if err != nil {
		return problem.RefuseError(err)
	}
	return nil
}

func checkLog(f intake.File) error {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	_, _, err = intake.ReadGNSSLog(r, f.Name)
	return err
}

// references matches the job file's layers with the files that came.
func (d *Draft) references(job *Job) error {
	said := map[string]bool{}
	for i, r := range job.Settings.References {
		if layer := (trace.Reference{File: r.File, Table: r.Table}); layer.InDatabase() {
			return problem.Refuse(problem.Problem{File: layer.ShownName(), Field: "reference", Cause: "the job file names a table of a database, and an upload has files only",
				Hint: "export the table as a GeoPackage and add it, or make the map with loamline map"})
		}
		name := plainName(r.File)
		if !d.has(KindReference, name) {
			return problem.Refuse(problem.Problem{File: r.File, Field: "reference", Cause: "the job file names this reference layer, and it is not in the upload",
				Hint: "add it to the upload, or take its [[reference]] out of the job file"})
		}
		job.Settings.References[i].File, said[name] = name, true
	}
	for _, f := range d.files {
		if f.Kind == KindReference && !said[f.Name] {
			job.Settings.References = append(job.Settings.References, jobfile.ReferenceSettings{File: f.Name, Utility: string(trace.UnknownKind)})
		}
	}
	return nil
}

func (d *Draft) has(kind Kind, name string) bool {
	for _, f := range d.files {
		if f.Kind == kind && f.Name == name {
			return true
		}
	}
	return false
}
