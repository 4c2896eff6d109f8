package serve

import (
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/trace"
)

// Options say where to listen, where jobs are kept and who may ask.
type Options struct {
	Listen  string // host:port
	DataDir string
	Version string
	Log     *slog.Logger

	Token         string            // for programs and people, empty where none is asked for
	Users         map[string]string // name to bcrypt hash
	Groups        map[string]string // name to group, where a user has one
	HideOthers    bool              // others' jobs are not shown; else they can be looked at
	CertFile      string
	KeyFile       string
	InsecurePlain bool // plain HTTP beyond loopback, because the user said so

	// Stop ends the program. Where it is given, only this computer is answered and
	// nobody signs in, the pages have a button for it.
	Stop func()

	Office trace.Job // what new jobs begin with; the zero value is trace.DefaultJob
	Limits jobs.Limits
	Maker  jobs.MakerOptions
	Pace   Pace
}

// Pace is how slow a client may be.
type Pace struct {
	Idle      time.Duration // longest silence within a request's body
	Form      time.Duration // for a whole form that is no upload
	Grace     time.Duration // after which an upload must keep up MinPerSec
	MinPerSec int           // bytes
	Answer    time.Duration // for writing one answer
}

var defaultPace = Pace{Idle: 20 * time.Second, Form: 30 * time.Second, Grace: time.Minute, MinPerSec: 2 << 10, Answer: 10 * time.Minute}

// DefaultDataDir is where jobs are kept when nobody says.
func DefaultDataDir() (string, error) {
	base, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("no folder for jobs is known here: name one with --data: %w", err)
	}
	return filepath.Join(base, "loamline"), nil
}

// filled takes defaults for what was not said.
func (o Options) filled() Options {
	if o.Office.CRS == "" {
		o.Office = trace.DefaultJob()
	}
	if o.Limits.UploadBytes <= 0 {
		o.Limits.UploadBytes = jobs.DefaultLimits.UploadBytes
	}
	if o.Limits.Files <= 0 {
		o.Limits.Files = jobs.DefaultLimits.Files
	}
	if o.Limits.Rows <= 0 {
		o.Limits.Rows = jobs.DefaultLimits.Rows
	}
	if o.Maker.AtOnce <= 0 {
		o.Maker.AtOnce = max(1, min(4, runtime.GOMAXPROCS(0)))
	}
	if o.Pace == (Pace{}) {
		o.Pace = defaultPace
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return o
}

// Check refuses to be reached from beyond this machine without people being
// told apart and the way being encrypted, unless the user said so in so many
// words.
func (o Options) Check() error {
	host, _, err := net.SplitHostPort(o.Listen)
	if err != nil {
		return fmt.Errorf("--listen %s: write an address and a port, such as 127.0.0.1:8140: %w", o.Listen, err)
	}
	if (o.CertFile == "") != (o.KeyFile == "") {
		return errors.New("--tls-cert and --tls-key belong together: give both")
	}
	if isLoopback(host) {
		return nil
	}
	switch {
	case o.Token == "" && len(o.Users) == 0:
		return fmt.Errorf("--listen %s can be reached from other machines: say who may use it with --token-file or --users, or listen on 127.0.0.1", o.Listen)
	case o.CertFile == "" && !o.InsecurePlain:
		return fmt.Errorf("--listen %s can be reached from other machines: give --tls-cert and --tls-key, or say --insecure-plain-http if something before it encrypts", o.Listen)
	}
	return nil
}

// stoppable reports whether the pages can end the program.
func (o Options) stoppable() bool {
	host, _, err := net.SplitHostPort(o.Listen)
	return err == nil && o.Stop != nil && isLoopback(host) && o.Token == "" && len(o.Users) == 0
}

// encrypted reports whether the way to the server is.
func (o Options) encrypted() bool { return o.CertFile != "" }

func isLoopback(host string) bool {
	if host == "localhost" {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}
