package archive

import (
	"context"
	"fmt"
	"slices"
	"time"

	"loamline.example/export/literal"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/ranked"
)

// Archive keeps the maps of many jobs, so that a city's traced lines become
// known neighbours of the next trace, and forgets nothing: what a job was before
// stays in its history. Positions are WGS 84.
type Archive interface {
	// Put keeps a job: all of it or nothing. The same job again, by its Identity,
	// becomes a new version, and the earlier one its history; any other job is
	// kept beside those that are there, however much it looks like one of them.
	// Another writer is waited for.
	Put(ctx context.Context, s *trace.Sheet) (Kept, error)
	// Near returns the traced lines of other jobs that come near.
	Near(ctx context.Context, q NearQuery) ([]trace.Record, error)
	// Jobs lists the jobs in their newest version, by key, those that were taken
	// out included.
	Jobs(ctx context.Context) ([]Job, error)
	// Versions lists a job's versions, the newest first.
	Versions(ctx context.Context, key string) ([]Version, error)
	// Map returns the GeoJSON of a version, as it was written.
	Map(ctx context.Context, key string, version int) ([]byte, error)
	// Remove takes a job out. Its versions stay, and Restore brings them back.
	Remove(ctx context.Context, key string) error
	// Restore makes an earlier version the newest.
	Restore(ctx context.Context, key string, version int) (Kept, error)
	Close() error
}

// NearQuery asks for lines that come within a distance of some places.
type NearQuery struct {
	Plane   geo.Plane
	Places  []geo.XY // such as the readings of a job
	WithinM float64
	Except  Identities // the job itself, which may be in the archive already
}

// Job is one job in an archive.
type Job struct {
	Key, Name, Ticket, Date string
	Version                 int
	Removed                 bool
}

// Version is one version of a job.
type Version struct {
	Job
	KeptAt   string // when it was kept, UTC
	Changed  string // against the version before, one change a line
	Identity string // what the job is told by
	Settings string // the member loamline of its GeoJSON
}

// Kept says what became of a job that was put.
type Kept struct {
	Key       string
	Version   int
	Replaced  int      // the version that became history; 0 where there was none
	Unchanged bool     // the archive has this very map already
	Beside    []string // other jobs that look like it, or share readings with it
}

// Words tells it in a line.
func (k Kept) Words() string {
	switch {
	case k.Unchanged:
		return fmt.Sprintf("kept as job %q, version %d, which is this very map", k.Key, k.Version)
	case k.Replaced > 0:
		return fmt.Sprintf("replaced version %d of job %q, which stays in its history; this is version %d", k.Replaced, k.Key, k.Version)
	}
	words := fmt.Sprintf("kept as job %q", k.Key)
	if k.Version > 1 {
		words += fmt.Sprintf(", version %d", k.Version)
	}
	const named = 3
	for i, b := range k.Beside {
		switch {
		case i == 0:
			words += fmt.Sprintf(", beside %q", b)
		case i < named:
			words += fmt.Sprintf(", %q", b)
		default:
			return words + fmt.Sprintf(" and %d more", len(k.Beside)-named)
		}
	}
	return words
}

// JobKey is what a job goes by in a GeoPackage of its own: its ticket and name.
// In an archive it is where the key starts from, for others may have it too.
func JobKey(s *trace.Sheet) string {
	if s.Job.Ticket == "" {
		return s.Name
	}
	return s.Job.Ticket + " / " + s.Name
}

// Now is when a version is kept. An archive is a record of what was done
// when, and the one output that knows the clock.
func Now() string { return time.Now().UTC().Format(time.RFC3339) }

// NoSuchJob says that an archive does not have a job.
func NoSuchJob(key string) error {
	return fmt.Errorf("the archive has no job %q: loamline archive list shows what it has", key)
}

// NoSuchVersion says that a job does not have a version.
func NoSuchVersion(key string, version int) error {
	return fmt.Errorf("job %q has no version %d: loamline archive show lists its versions", key, version)
}

// TakenOut says that a job is not there to be removed.
func TakenOut(key string) error {
	return fmt.Errorf("job %q was taken out before: loamline archive restore brings it back", key)
}

// InputNames are the files that a job was made from.
func InputNames(s *trace.Sheet) []string {
	names := []string{}
	for _, in := range s.Inputs {
		names = append(names, in.Name)
	}
	return names
}

// Line is a traced part as an archive gives it back.
type Line struct {
	Keeper                   string // what has it; empty for an archive
	Job, Line, Utility, Date string
	Path                     []geo.LonLat
	DepthM, Horizontal95M    []float64
	FrameDoubtM              float64 // how far all of its map may be off for its frame
}

// LinesOf are the traced parts of a job, in their order, as an archive has them.
func LinesOf(s *trace.Sheet, keeper, key string) []Line {
	var out []Line
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		for _, p := range l.Centerline.Parts {
			a := Line{Keeper: keeper, Job: key, Line: l.Setup.Name, Utility: string(style.Of(l.Setup.Utility).Utility), Date: words.JobDate(s), FrameDoubtM: l.Caution.DoubtM}
			for _, v := range p.Vertices {
				a.Path, a.DepthM = append(a.Path, s.Plane.LonLat(v.Pos)), append(a.DepthM, v.DepthM)
				a.Horizontal95M = append(a.Horizontal95M, v.Horizontal95M)
			}
			out = append(out, a)
		}
	}
	return out
}

// record tells an archived line as a known one: it says from which job it comes,
// since it was traced too and is no record of its owner, and how far off it may lie where
// its own band reaches farther than records are taken to err.
func (a Line) record(plane geo.Plane) trace.Record {
	keeper := a.Keeper
	if keeper == "" {
		keeper = "archive"
	}
	r := trace.Record{Name: a.Line, Source: keeper + ": job " + a.Job, Earlier: true, FrameDoubtM: a.FrameDoubtM, Utility: style.Of(trace.Utility(a.Utility)).Utility}
	if a.Date != "" {
		r.Source += ", traced on " + a.Date
	}
	for _, ll := range a.Path {
		r.Path = append(r.Path, plane.XY(ll))
	}
	if len(a.DepthM) == len(a.Path) {
		r.DepthM = a.DepthM
	}
	if r.FrameDoubtM > 0 {
		r.FrameDoubtWhy = "the frame of its map is in doubt"
	}
	if beyond := median(a.Horizontal95M) - 1.96*trace.RecordSigmaM; beyond > 0 {
		r.DoubtM, r.DoubtWhy = beyond, "it was traced no better"
	}
	return r
}

// median is the middle one of what is known, Unknown where nothing is: half of a line lies
// no worse, and one wide place is not all of it.
func median(of []float64) float64 {
	known := slices.DeleteFunc(slices.Clone(of), func(v float64) bool { return !literal.Finite(v) })
	if len(known) == 0 {
		return trace.Unknown
	}
	return ranked.Median(known)
}
