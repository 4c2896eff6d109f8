package jobs

import (
	"errors"
	"fmt"
	"slices"

	"loamline/trace/intake"
)

// understand reads every table of a job with the answers given so far and, for
// a header that nobody was asked about in this job, those remembered. Rows are
// counted where positions are known.
func (s *Store) understand(job *Job, open func(int) intake.File) error {
	s.reading <- struct{}{}
	defer func() { <-s.reading }()
	logs := slices.ContainsFunc(job.Files, func(f InputFile) bool { return f.Kind == KindGNSSLog })
	rows := 0
	job.LineNames = nil
	for i := range job.Files {
		f := &job.Files[i]
		if f.Kind != KindTrace {
			continue
		}
		lines, err := s.understandFile(job, f, open(i), logs)
		if err != nil {
			return refuseError(err)
		}
		if rows += f.Table.Rows; rows > s.limits.Rows {
			return &TooLarge{Problem{File: f.Name, Cause: fmt.Sprintf("the upload has more than %d rows", s.limits.Rows), Hint: "split the job"}}
		}
		for _, n := range lines {
			if !slices.Contains(job.LineNames, n) && len(job.LineNames) < maxLineNames {
				job.LineNames = append(job.LineNames, n)
			}
		}
	}
	return nil
}

func (s *Store) understandFile(job *Job, f *InputFile, file intake.File, logs bool) ([]string, error) {
	var answers map[string]string
	recalled := false
	if f.Table != nil {
		answers, recalled = f.Table.Answers, f.Table.Remembered
	}
	v, lines, err := viewTable(file, answers, job.Settings.Columns, logs)
	if err != nil || f.Table != nil {
		if v != nil {
			v.Remembered = recalled
		}
		f.Table = v
		return lines, err
	}
	if old, ok := s.memory.recall(v.Fingerprint); ok {
		if again, more, err := viewTable(file, old.Answers, job.Settings.Columns, logs); err == nil {
			again.Remembered = true
			v, lines = again, more
		}
		if !job.DatumSaid && old.Said {
			job.Settings.Datum, job.DatumSaid = old.Datum, true
			if old.CRS != "" && job.Settings.CRS == DefaultSettings().CRS {
				job.Settings.CRS = old.CRS
			}
		}
	}
	f.Table = v
	return lines, nil
}

// Answer is what somebody says about the files of a job.
type Answer struct {
	Columns map[string]map[string]string `json:"columns"` // by file name: header to a name of ours, or NotUsed
	Datum   *string                      `json:"datum"`   // "" where nobody knows
	CRS     *string                      `json:"crs"`
}

// Say takes answers, reads the tables with them, and remembers them for the
// next file with the same header. Answers that no table can be read with are
// refused, and nothing changes.
func (s *Store) Say(id string, revision int, a Answer) (Job, error) {
	job, err := s.change(id, revision, func(j *Job) error {
		if j.Busy() {
			return refuse(Problem{Cause: "the map is being made", Hint: "wait until it is done, or cancel it"})
		}
		if a.Datum != nil {
			j.Settings.Datum, j.DatumSaid = *a.Datum, true
		}
		if a.CRS != nil && *a.CRS != "" {
			j.Settings.CRS = *a.CRS
		}
		if _, err := j.Settings.Job(); err != nil {
			return refuseError(err)
		}
		if err := j.answer(a.Columns); err != nil {
			return err
		}
		return s.understand(j, func(i int) intake.File { return fileAt(s.inputPath(id, i), j.Files[i]) })
	})
	if err != nil {
		return job, err
	}
	return job, s.rememberAnswers(job)
}

// answer lays answers over the ones before.
func (j *Job) answer(columns map[string]map[string]string) error {
	for name, given := range columns {
		i := slices.IndexFunc(j.Files, func(f InputFile) bool { return f.Kind == KindTrace && f.Name == name })
		if i < 0 {
			return refuse(Problem{File: name, Cause: "the job has no readings table of this name"})
		}
		t := *j.Files[i].Table
		all := map[string]string{}
		for h, n := range t.Answers {
			all[h] = n
		}
		for h, n := range given {
			if n == "" {
				delete(all, h)
			} else {
				all[h] = n
			}
		}
		if err := checkAnswers(name, &t, all); err != nil {
			return err
		}
		t.Answers = all
		j.Files[i].Table = &t
	}
	return nil
}

func (s *Store) rememberAnswers(job Job) error {
	var errs error
	for _, f := range job.Files {
		if f.Table == nil || f.Table.Asks() {
			continue
		}
		r := remembered{Answers: f.Table.Answers, Datum: job.Settings.Datum, Said: job.DatumSaid, When: s.now().UTC()}
		if f.Table.Projected() {
			r.CRS = job.Settings.CRS
		}
		errs = errors.Join(errs, s.memory.keep(f.Table.Fingerprint, r))
	}
	return errs
}

// Questions lists what must still be said before a map can be made, in words.
func (j *Job) Questions() []string {
	var out []string
	for _, f := range j.Files {
		if f.Table == nil {
			continue
		}
		for _, c := range f.Table.Columns {
			if c.Ask {
				out = append(out, fmt.Sprintf("%s: what is the column %q?", f.Name, c.Header))
			}
		}
		if f.Table.Rows == 0 {
			out = append(out, fmt.Sprintf("%s: which columns are the position?", f.Name))
		}
	}
	if j.NeedsCRS() {
		out = append(out, "Which coordinate reference system are the eastings and northings in?")
	}
	if !j.DatumSaid && !j.NeedsCRS() && !j.Projected() {
		out = append(out, "Which datum were the position corrections in?")
	}
	return out
}

// Projected reports whether any table has eastings and northings.
func (j *Job) Projected() bool {
	return slices.ContainsFunc(j.Files, func(f InputFile) bool { return f.Table != nil && f.Table.Projected() })
}

// NeedsCRS reports whether projected positions have no reference system yet.
func (j *Job) NeedsCRS() bool {
	return j.Projected() && j.Settings.CRS == DefaultSettings().CRS
}
