package jobs

import (
	"time"

	"loamline.example/cmd/loamline/internal/serve/tables"
)

// Remembered lists what was answered for earlier files, the newest first.
func (s *Store) Remembered() []tables.Remembered {
	return s.memory.NewestFirst()
}

// Forget removes what is remembered under a key.
func (s *Store) Forget(key string) error {
	return s.memory.Forget(key)
}

func (s *Store) rememberAnswers(job Job) error {
	for i, f := range job.Files {
		if f.Table == nil || f.Table.Asks() || len(f.Table.Answers) == 0 && !f.Table.NoDepth && !job.DatumSaid {
			continue
		}
		r := tables.Remembered{Fingerprint: f.Table.Fingerprint, Answers: f.Table.Answers, NoDepth: f.Table.NoDepth, Datum: job.Settings.Datum, DatumSaid: job.DatumSaid,
			Owner: job.Owner, Group: job.Group, For: job.Title(), On: s.now().UTC().Truncate(time.Second)}
		for _, c := range f.Table.Columns {
			r.Headers = append(r.Headers, c.Header)
		}
		if f.Table.Projected() {
			r.CRS = job.Settings.CRS
		}
		r.Place = tables.PlaceOf(fileAt(s.inputPath(job.ID, i), f), tables.ColumnMap(f.Table.Answers, job.Settings.Columns))
		if r.Place == nil {
			continue // nobody could tell where it may be offered again
		}
		if err := s.memory.Keep(r); err != nil {
			return err
		}
	}
	return nil
}
