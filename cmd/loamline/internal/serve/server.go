package serve

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"loamline.example/cmd/loamline/internal/serve/audit"
	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
)

// Server is the page and the API over one folder of jobs.
type Server struct {
	opt   Options
	store *jobs.Store
	maker *jobs.Maker
	door  *door.Door
	audit *audit.Log
	page  *pages
	urls  []string // by which others on the network reach it
}

// New opens the folder of jobs and starts making what an earlier process left
// undone.
func New(opt Options) (*Server, error) {
	opt = opt.filled()
	if err := opt.Check(); err != nil {
		return nil, err
	}
	store, err := jobs.OpenStore(opt.DataDir, opt.Version, opt.Limits, opt.Office, opt.Log)
	if err != nil {
		return nil, err
	}
	log, err := audit.Open(opt.DataDir, opt.Log)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("the audit log cannot be opened: %w", err), store.Close())
	}
	s := &Server{audit: log, opt: opt, store: store, door: door.New(opt.Token, opt.Users, opt.Groups, opt.encrypted()), page: newPages()}
	s.maker = jobs.NewMaker(store, opt.Maker)
	return s, nil
}

// Close stops what runs and gives the folder free.
func (s *Server) Close() error {
	s.maker.Close()
	return errors.Join(s.audit.Close(), s.store.Close())
}

// Handler answers everything, guarded.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	s.routePages(mux)
	s.routeAPI(mux)
	return s.guard(mux)
}

// shutdownPatience is how long answers under way may take once the server is
// told to stop: it is gone within two seconds, wherever the work is.
const shutdownPatience = 1500 * time.Millisecond

// Serve answers on a listener until the context ends; then short answers under
// way are finished, uploads and fits under way are rolled back. Fits are made
// again at the next start.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	srv := &http.Server{
		Handler:           s.Handler(),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       s.opt.Pace.Form, // uploads move their own deadline
		WriteTimeout:      s.opt.Pace.Answer,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
		ErrorLog:          slog.NewLogLogger(s.opt.Log.Handler(), slog.LevelDebug),
	}
	requests, cut := context.WithCancelCause(context.WithoutCancel(ctx))
	defer cut(nil)
	srv.BaseContext = func(net.Listener) context.Context { return requests }
	ended := make(chan error, 1)
	go func() {
		if s.opt.CertFile != "" {
			ended <- srv.ServeTLS(l, s.opt.CertFile, s.opt.KeyFile)
			return
		}
		ended <- srv.Serve(l)
	}()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	stopped := make(chan bool)
	go func() { s.maker.Close(); close(stopped) }()
	patient, done := context.WithTimeout(context.WithoutCancel(ctx), shutdownPatience)
	defer done()
	err := srv.Shutdown(patient)
	if errors.Is(err, context.DeadlineExceeded) {
		cut(errStopping)
		err = srv.Close() // whoever is that slow gets nothing stored
	}
	<-stopped
	if e := <-ended; !errors.Is(e, http.ErrServerClosed) {
		err = errors.Join(err, e)
	}
	return err
}

// errStopping is why a request was cut.
var errStopping = errors.New("the server is shutting down")

// listen opens the address that the options name.
func (o Options) listen() (net.Listener, error) {
	l, err := net.Listen("tcp", o.Listen)
	if err != nil {
		return nil, fmt.Errorf("--listen %s: %w: choose another address or port", o.Listen, err)
	}
	return l, nil
}

// Run is the whole of it: open, tell the address, answer until the context ends.
func Run(ctx context.Context, opt Options, ready func(url string, others []string)) error {
	s, err := New(opt)
	if err != nil {
		return err
	}
	l, err := opt.listen()
	if err != nil {
		return errors.Join(err, s.Close())
	}
	scheme := "http"
	if opt.CertFile != "" {
		scheme = "https"
	}
	s.urls = urlsFor(l.Addr(), scheme)
	ready(scheme+"://"+l.Addr().String()+"/", s.urls)
	return errors.Join(s.Serve(ctx, l), s.Close())
}
