package jobs

import (
	"context"

	"loamline.example/cmd/loamline/internal/serve/report"
	"loamline.example/export/geojson"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Changes compares two finished runs of a job.
func (s *Store) Changes(id string, from, to int) (*report.Changes, error) {
	job, err := s.Job(id)
	if err != nil {
		return nil, err
	}
	a, err := s.Result(id, from)
	if err != nil {
		return nil, err
	}
	b, err := s.Result(id, to)
	if err != nil {
		return nil, err
	}
	c, err := report.ChangesOf(a, b, job.Run(from).Settings, job.Run(to).Settings)
	if err != nil {
		return nil, err
	}
	c.From, c.To = from, to
	c.Lines, err = s.Overlay(id, from, id, to, geo.Units(b.Units))
	return c, err
}

// Overlay lays the map of one run over another's, line by line by name.
func (s *Store) Overlay(firstID string, first int, secondID string, second int, u geo.Units) ([]report.Overlay, error) {
	a, err := s.located(firstID, first)
	if err != nil {
		return nil, err
	}
	b, err := s.located(secondID, second)
	if err != nil {
		return nil, err
	}
	return report.OverlaysOf(a, b, u), nil
}

func (s *Store) located(id string, number int) (trace.Located, error) {
	o, f, err := s.Output(context.Background(), id, number, "geojson") // which is always there
	if err != nil {
		return trace.Located{}, err
	}
	defer f.Close()
	return geojson.ReadLocated(f, o.Name)
}

// Compare lays the newest maps of two jobs over each other. Lines are paired by
// place and name; what a person says about a line goes before.
func (s *Store) Compare(first, second Job, u geo.Units, hand []report.HandPair) (report.Comparison, error) {
	if first.LatestDone() == nil || second.LatestDone() == nil {
		return report.Comparison{}, ErrNoRun
	}
	a, err := s.located(first.ID, first.LatestDone().Number)
	if err != nil {
		return report.Comparison{First: a}, err
	}
	b, err := s.located(second.ID, second.LatestDone().Number)
	if err != nil {
		return report.Comparison{First: a, Second: b}, err
	}
	return report.Compare(a, b, u, hand)
}
