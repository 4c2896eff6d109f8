package archive

import (
	"context"
	"fmt"

	"loamline/export/style"
	"loamline/geo"
	"loamline/trace"
)

// Archive keeps the maps of many jobs, so that a city's traced lines become
// known neighbours of the next trace. Positions are WGS 84.
type Archive interface {
	// Put keeps a job: all of it or nothing. A job of the same JobKey replaces
	// itself. Jobs without a ticket are only told apart by name: when one of
	// that name was made from other files, Put refuses with ErrOtherJob.
	Put(ctx context.Context, s *trace.Sheet) error
	// Near returns the traced lines of other jobs that come near.
	Near(ctx context.Context, q NearQuery) ([]trace.Record, error)
	// Jobs lists the jobs that are kept, by key.
	Jobs(ctx context.Context) ([]Job, error)
	Close() error
}

// NearQuery asks for lines that come within a distance of some places.
type NearQuery struct {
	Plane     geo.Plane
	Places    []geo.XY // such as the readings of a job
	WithinM   float64
	ExceptKey string // the job itself, which may be in the archive already
}

// Job is one job in an archive.
type Job struct{ Key, Name, Ticket, Date string }

// ErrOtherJob is why an archive refuses a job whose name another one has.
type ErrOtherJob struct{ Key string }

// Error says what to do.
func (e *ErrOtherJob) Error() string {
	return fmt.Sprintf("the archive has a job %q that was made from other files; give this job a ticket or another name", e.Key)
}

// JobKey is what a job goes by in a GeoPackage, an archive or a database: its
// ticket and name. A job of the same key is the same job done again.
func JobKey(s *trace.Sheet) string {
	if s.Job.Ticket == "" {
		return s.Name
	}
	return s.Job.Ticket + " / " + s.Name
}

// SameJob reports whether a job may replace the one that was made from files of
// the given names.
func SameJob(s *trace.Sheet, before []string) error {
	if s.Job.Ticket != "" {
		return nil
	}
	for _, in := range s.Inputs {
		for _, b := range before {
			if in.Name == b {
				return nil
			}
		}
	}
	return &ErrOtherJob{JobKey(s)}
}

func InputNames(s *trace.Sheet) []string {
	names := []string{}
	for _, in := range s.Inputs {
		names = append(names, in.Name)
	}
	return names
}

// Line is a traced part as an archive gives it back.
type Line struct {
	Job, Line, Utility, Date string
	Path                     []geo.LonLat
	DepthM                   []float64
}

// record tells an archived line as a known one: it says from which job it comes,
// since it was traced too and is no record of its owner.
func (a Line) record(plane geo.Plane) trace.Record {
	r := trace.Record{Name: a.Line, Source: "archive: job " + a.Job, Utility: style.Of(trace.Utility(a.Utility)).Utility}
	if a.Date != "" {
		r.Source += ", traced on " + a.Date
	}
	for _, ll := range a.Path {
		r.Path = append(r.Path, plane.XY(ll))
	}
	if len(a.DepthM) == len(a.Path) {
		r.DepthM = a.DepthM
	}
	return r
}
