package serve

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"mime/multipart"
	"net/http"
	"slices"
	"time"

	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// badUpload is a request that is no readable upload.
type badUpload struct{ error }

func (b *badUpload) Unwrap() error { return b.error }

// errSlow is why an upload was given up.
var errSlow = errors.New("the upload is too slow")

// pacedBody gives a body a deadline that moves with every piece that comes, and
// gives up on whoever sends a byte now and then.
type pacedBody struct {
	io.ReadCloser
	control *http.ResponseController
	pace    Pace
	began   time.Time
	bytes   int64
}

func (b *pacedBody) Read(p []byte) (int, error) {
	if spent := time.Since(b.began); spent > b.pace.Grace && float64(b.bytes) < spent.Seconds()*float64(b.pace.MinPerSec) {
		return 0, errSlow
	}
	_ = b.control.SetReadDeadline(time.Now().Add(b.pace.Idle))
	n, err := b.ReadCloser.Read(p)
	b.bytes += int64(n)
	return n, err
}

// receive stores an upload as a job. Nothing is kept unless all of it is good.
func (s *Server) receive(w http.ResponseWriter, r *http.Request) (jobs.Job, error) {
	const multipartOverhead = 1 << 20
	most := s.opt.Limits.UploadBytes + multipartOverhead
	if r.ContentLength > most {
		return jobs.Job{}, s.store.TooManyBytes("")
	}
	r.Body = http.MaxBytesReader(w, &pacedBody{ReadCloser: r.Body, control: http.NewResponseController(w), pace: s.opt.Pace, began: time.Now()}, most)
	parts, err := r.MultipartReader()
	if err != nil {
		return jobs.Job{}, &badUpload{fmt.Errorf("send the files as multipart/form-data: %w", err)}
	}
	draft, err := s.store.NewDraft()
	if err != nil {
		return jobs.Job{}, err
	}
	defer draft.Discard()
	who := door.Of(r)
	draft.Owner, draft.Group = who.Name, who.Group
	for count := 0; ; count++ {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return jobs.Job{}, uploadError(err)
		}
		if count > s.opt.Limits.Files+8 {
			return jobs.Job{}, &badUpload{fmt.Errorf("the upload has more than %d parts", s.opt.Limits.Files)}
		}
		if err := addPart(draft, part); err != nil {
			return jobs.Job{}, uploadError(err)
		}
	}
	// Read to the end of the body: from there on the server sees it if whoever
	// sent it goes away, and then nothing is stored.
	if _, err := io.Copy(io.Discard, r.Body); err != nil {
		return jobs.Job{}, uploadError(err)
	}
	return draft.Commit(r.Context())
}

func addPart(draft *jobs.Draft, part *multipart.Part) error {
	kind := jobs.Kind(part.FormName())
	if !slices.Contains(jobs.Kinds(), kind) {
		return &badUpload{fmt.Errorf("the upload has a field %.40q; the fields are trace, job, reference and gnss_log", part.FormName())}
	}
	return draft.Add(kind, part.FileName(), part)
}

// uploadError tells the client's mistakes from the server's.
func uploadError(err error) error {
	var large *jobs.TooLarge
	var tooMany *http.MaxBytesError
	var refused *problem.Refused
	var bad *badUpload
	switch {
	case errors.As(err, &large), errors.As(err, &tooMany), errors.As(err, &refused), errors.As(err, &bad), errors.Is(err, errSlow), errors.Is(err, jobs.ErrFull):
		return err
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, multipart.ErrMessageTooLarge):
		return &badUpload{fmt.Errorf("the upload ended before its last part did: %w", err)}
	}
	if isNetOrDisk(err) {
		return err
	}
	return &badUpload{err}
}

// isNetOrDisk reports whether the connection or the disk is to blame.
func isNetOrDisk(err error) bool {
	var timeout interface{ Timeout() bool }
	var path *fs.PathError
	return errors.As(err, &timeout) || errors.As(err, &path)
}
