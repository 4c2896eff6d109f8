package serve

import (
	"errors"
	"net/http"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// typed is a form as it came.
func typed(r *http.Request) map[string]string {
	out := map[string]string{}
	for k, v := range r.PostForm {
		out[k] = v[0]
	}
	return out
}

// readSettings reads the form over the job's settings: what the form does not
// hold stays as it is.
func readSettings(r *http.Request, job jobs.Job) (jobfile.Settings, []problem.Problem) {
	set := job.Settings.WithLines(job.LineNames)
	f := form{values: r.PostForm}
	for name, to := range map[string]*string{
		"ticket": &set.Ticket, "date": &set.Date, "valid_until": &set.ValidUntil, "locator": &set.Locator, "area": &set.Area, "units": &set.Units, "language": &set.Language,
		"crs": &set.CRS, "datum": &set.Datum, "vertical_datum": &set.VerticalDatum, "tolerance.half_width": &set.Tolerance.HalfWidth,
		"tolerance.measured_from": &set.Tolerance.MeasuredFrom, "tolerance.rule": &set.Tolerance.Rule,
		"job_id": &set.JobID, "output.crs": &set.Output.CRS, "output.sheets": &set.Output.Sheets, "output.page_url": &set.Output.PageURL,
	} {
		f.text(name, to)
	}
	f.number("epoch", &set.Epoch)
	f.number("antenna_gap_m", &set.AntennaGapM)
	f.number("gnss_offset_s", &set.GNSSOffsetS)
	set.Lines = append([]jobfile.LineSettings(nil), set.Lines...)
	for i := range set.Lines {
		l := &set.Lines[i]
		at := "line." + strconv.Itoa(i) + "."
		f.text(at+"utility", &l.Utility)
		f.text(at+"diameter", &l.Diameter)
		f.text(at+"material", &l.Material)
		f.text(at+"hookup", &l.Hookup)
		f.number(at+"freq_hz", &l.FreqHz)
		f.number(at+"power_w", &l.PowerW)
		l.Transmitter = f.transmitter(at+"transmitter.", l.Transmitter)
	}
	f.forAll(set.Lines)
	set.References = append([]jobfile.ReferenceSettings(nil), set.References...)
	f.references(set.References)
	set.Features = f.features(set.Features)
	return set, f.problems
}

// form reads fields and collects what cannot be read.
type form struct {
	values   map[string][]string
	problems []problem.Problem
}

func (f *form) get(name string) (string, bool) {
	v, ok := f.values[name]
	if !ok || len(v) == 0 {
		return "", false
	}
	return strings.TrimSpace(v[0]), true
}

func (f *form) text(name string, to *string) {
	if v, ok := f.get(name); ok {
		*to = v
	}
}

func (f *form) number(name string, to *float64) {
	v, ok := f.get(name)
	if !ok {
		return
	}
	if v == "" {
		*to = 0
		return
	}
	n, err := readNumber(name, v)
	if err != nil {
		f.problems = append(f.problems, problem.Problem{Field: name, Value: v, Cause: err.Error(), Hint: "write figures only, such as 0.40"})
		return
	}
	*to = n
}

// again tells how a form is shown once more after what came of it: refused with
// problems, or against a job that was changed meanwhile, which is then the job as
// it is now. Any other error is returned.
func (s *Server) again(job *jobs.Job, err error) (refused *problem.Refused, changed bool, status int, other error) {
	switch {
	case errors.Is(err, jobs.ErrChanged):
		now, gone := s.store.Job(job.ID)
		if gone != nil {
			return nil, false, 0, gone
		}
		*job = now
		return nil, true, http.StatusConflict, nil
	case errors.As(err, &refused):
		return refused, false, http.StatusUnprocessableEntity, nil
	}
	return nil, false, 0, err
}
