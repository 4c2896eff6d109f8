package jobs

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/tables"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/trace/intake"
)

// understand reads every table of a job with what was said so far: by people
// about this job first, then by its job file. What was answered for an earlier
// file of the same instrument is looked up the first time, and only offered.
// Rows are counted where positions are known.
func (s *Store) understand(ctx context.Context, job *Job, open func(int) intake.File) error {
	var bytes int64
	for _, f := range job.Files {
		if f.Kind == KindTrace {
			bytes += f.Bytes
		}
	}
	release, err := s.room.take(ctx, bytes*tableCost)
	if err != nil {
		return err
	}
	defer release()
	logs := slices.ContainsFunc(job.Files, func(f InputFile) bool { return f.Kind == KindGNSSLog })
	rows := 0
	job.LineNames = nil
	for i := range job.Files {
		f := &job.Files[i]
		if f.Kind != KindTrace {
			continue
		}
		lines, err := s.understandFile(job, f, open(i).Until(ctx), logs)
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if err != nil {
			return problem.RefuseError(err)
		}
		if rows += f.Table.Rows; rows > s.limits.Rows {
			return &TooLarge{problem.Problem{File: f.Name, Cause: fmt.Sprintf("the upload has more than %d rows", s.limits.Rows), Hint: "split the job"}}
		}
		for _, n := range lines {
			if !slices.Contains(job.LineNames, n) && len(job.LineNames) < tables.MaxLineNames {
				job.LineNames = append(job.LineNames, n)
			}
		}
	}
	return nil
}

func (s *Store) understandFile(job *Job, f *InputFile, file intake.File, logs bool) ([]string, error) {
	said := tables.Statements{Columns: job.Settings.Columns, WithoutPosition: logs}
	if f.Table != nil {
		said.Answers, said.NoDepth, said.Recalled = f.Table.Answers, f.Table.NoDepth, f.Table.Recalled
	}
	v, lines, err := tables.View(file, said)
	if err != nil {
		return nil, err
	}
	if f.Table == nil {
		said.Recalled = s.memory.Recall(v.Fingerprint, job.Owner, job.Group, func(answers map[string]string) *whereabouts.Place {
			return tables.PlaceOf(file, tables.ColumnMap(answers, job.Settings.Columns))
		})
		if said.Recalled != nil {
			if v, lines, err = tables.View(file, said); err != nil {
				return nil, err
			}
		}
	}
	f.Table = v
	return lines, nil
}

// Answer is what somebody says about the files of a job.
type Answer struct {
	Columns    map[string]map[string]string `json:"columns"`     // by file name: header to a name of ours, or "-" where it is not to be used
	NoDepth    []string                     `json:"no_depth"`    // files that have no depth
	StillRight bool                         `json:"still_right"` // what was answered for an earlier file, where nothing contradicts it
	Datum      *string                      `json:"datum"`       // "" where nobody knows
	CRS        *string                      `json:"crs"`
}

// Say takes answers, reads the tables with them, and remembers them for the
// next file of the same instrument. Answers that no table can be read with are
// refused, and nothing changes.
func (s *Store) Say(ctx context.Context, id string, revision int, a Answer) (Job, error) {
	job, err := s.rework(id, revision, func(j *Job) error {
		if j.Busy() {
			return problem.Refuse(problem.Problem{Cause: "the map is being made", Hint: "wait until it is done, or cancel it"})
		}
		if a.Datum != nil {
			j.Settings.Datum, j.DatumSaid = *a.Datum, true
		}
		if a.CRS != nil && *a.CRS != "" {
			j.Settings.CRS = *a.CRS
		}
		if err := j.Settings.Check(); err != nil {
			return err
		}
		if err := j.answer(a); err != nil {
			return err
		}
		return s.understand(ctx, j, func(i int) intake.File { return fileAt(s.inputPath(id, i), j.Files[i]) })
	})
	if err != nil {
		if s.deleted(id) { // while its files were read again
			return job, ErrNoJob
		}
		return job, err
	}
	if err := s.rememberAnswers(job); err != nil {
		s.log.Error("answers are not remembered", "job", id, "error", err) // they are stored with the job all the same
	}
	return job, nil
}

// Keep stores settings without making a map.
func (s *Store) Keep(id string, revision int, settings jobfile.Settings) (Job, error) {
	if err := settings.Check(); err != nil {
		return Job{}, err
	}
	return s.rework(id, revision, func(j *Job) error {
		if j.Busy() {
			return problem.Refuse(problem.Problem{Cause: "the map is being made", Hint: "wait until it is done, or cancel it"})
		}
		j.Settings = settings.Clone()
		j.DatumSaid = j.DatumSaid || settings.Datum != ""
		return nil
	})
}

// answer lays answers over the ones before.
func (j *Job) answer(a Answer) error {
	for name := range a.Columns {
		if j.table(name) == nil {
			return noTable(name)
		}
	}
	for _, name := range a.NoDepth {
		if j.table(name) == nil {
			return noTable(name)
		}
	}
	for i := range j.Files {
		f := &j.Files[i]
		if f.Table == nil {
			continue
		}
		t := *f.Table
		all := map[string]string{}
		for h, n := range t.Answers {
			all[h] = n
		}
		if a.StillRight {
			for _, c := range t.Columns {
				if c.Ask && c.Recalled != "" && c.Name == "" {
					all[c.Header] = c.Recalled
				}
			}
			t.NoDepth = t.NoDepth || t.Recalled != nil && t.Recalled.NoDepth
		}
		for h, n := range a.Columns[f.Name] {
			if n == "" {
				delete(all, h)
			} else {
				all[h] = n
			}
			if strings.HasPrefix(n, "depth_") {
				t.NoDepth = false
			}
		}
		t.NoDepth = t.NoDepth || slices.Contains(a.NoDepth, f.Name)
		if err := tables.CheckAnswers(f.Name, &t, all, j.Settings.Columns); err != nil {
			return err
		}
		t.Answers = all
		f.Table = &t
	}
	return nil
}

// table is a readings table of the job, nil where there is none of this name.
func (j *Job) table(name string) *InputFile {
	for i := range j.Files {
		if f := &j.Files[i]; f.Kind == KindTrace && f.Name == name {
			return f
		}
	}
	return nil
}

func noTable(name string) error {
	return problem.Refuse(problem.Problem{File: name, Cause: "the job has no readings table of this name"})
}

// Projected reports whether any table has eastings and northings.
func (j *Job) Projected() bool {
	return slices.ContainsFunc(j.Files, func(f InputFile) bool { return f.Table != nil && f.Table.Projected() })
}

// NeedsCRS reports whether projected positions have no reference system yet.
func (j *Job) NeedsCRS() bool {
	return j.Projected() && j.Settings.CRS == jobfile.DefaultSettings().CRS
}

// ReadAnswer reads what somebody says about the files of a job.
func ReadAnswer(body []byte) (Answer, error) {
	var a Answer
	return a, jobfile.Decode(body, &a)
}
