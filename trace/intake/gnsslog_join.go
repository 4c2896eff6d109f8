package intake

import (
	"fmt"
	"io"
	"math"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// joinLogs gives readings without a position the one that a GNSS log has at
// their time. Readings for which no log has one are set aside with the reason.
func joinLogs(s *trace.Source, files []File) error {
	if len(files) == 0 {
		return nil
	}
	if crs, err := geo.LookupCRS(s.Job.CRS); err == nil && !crs.Geographic() {
		return &trace.Problem{File: files[0].Name, Cause: fmt.Sprintf("the job's crs is %s, but a GNSS log has longitude and latitude", crs.ID()),
			Hint: "leave crs out, and name the datum of the corrections"}
	}
	var logs []GNSSLog
	for _, f := range files {
		err := fingerprint(s, f, trace.InputGNSSLog, func(r io.Reader) error {
			log, problems, err := ReadGNSSLog(r, f.Name)
			s.Problems = append(s.Problems, problems...)
			logs = append(logs, log)
			return err
		})
		if err != nil {
			return err
		}
	}
	j := logJoin{logs: logs, offset: time.Duration(math.Round(s.Job.GNSSOffsetS * 1e9))}
	for i := range s.Readings {
		j.place(&s.Readings[i])
	}
	return j.tell(s, files[0].Name)
}

// logJoin joins readings with logs, and counts.
type logJoin struct {
	logs        []GNSSLog
	offset      time.Duration // of the log's clock from the readings'
	own         int           // readings with a position of their own
	placed      int
	failed      int
	holes       int       // of failed, those within a log's span
	first, last time.Time // of the readings without a position
}

// place gives a reading its position from the first log that has one.
func (j *logJoin) place(r *trace.Reading) {
	if trace.Known(r.Geographic.LatDeg) && trace.Known(r.Geographic.LonDeg) || trace.Known(r.Projected[0]) && trace.Known(r.Projected[1]) {
		j.own++
		return
	}
	if r.Time.IsZero() {
		j.failed++
		r.SetAside(remark.NoPositionNorTime)
		return
	}
	if j.first.IsZero() || r.Time.Before(j.first) {
		j.first = r.Time
	}
	if r.Time.After(j.last) {
		j.last = r.Time
	}
	why := ""
	for _, log := range j.logs {
		f, no := log.At(r.Time.Add(j.offset))
		if no != "" {
			if why != "" {
				why += "; "
			}
			why += no
			continue
		}
		j.placed++
		r.Geographic, r.ByClock = f.Pos, true
		if r.Fix == trace.FixUnknown {
			r.Fix = f.Fix
		}
		if !trace.Known(r.HDOP) {
			r.HDOP = f.HDOP
		}
		if !trace.Known(r.HAccM) {
			r.HAccM = f.HAccM
		}
		return
	}
	j.failed++
	for _, log := range j.logs {
		if t := r.Time.Add(j.offset); t.After(log.Fixes[0].Time) && t.Before(log.Fixes[len(log.Fixes)-1].Time) {
			j.holes++
			break
		}
	}
	r.SetAside(remark.NotInLog{Why: why})
}

// tell says what was done. It is an error if no reading has a position: then
// the clocks do not agree, or the log is another day's.
func (j *logJoin) tell(s *trace.Source, file string) error {
	begins, ends := j.logs[0].Fixes[0].Time, j.logs[0].Fixes[len(j.logs[0].Fixes)-1].Time
	for _, l := range j.logs[1:] {
		if t := l.Fixes[0].Time; t.Before(begins) {
			begins = t
		}
		if t := l.Fixes[len(l.Fixes)-1].Time; t.After(ends) {
			ends = t
		}
	}
	switch {
	case j.placed == 0 && j.failed == 0:
		s.Problems = append(s.Problems, trace.Problem{File: file, Warn: true, Cause: "the GNSS log is not used: every reading has a position of its own",
			Hint: "leave out the log, or the position columns if the log is better"})
	case j.placed == 0 && j.own == 0 && 2*j.holes > j.failed:
		return &trace.Problem{File: file, Cause: fmt.Sprintf("the GNSS log, %s to %s, covers the readings' times, but its fixes are too far apart to place any of the %d readings: at most %s may lie between two",
			clock(begins), clock(ends), j.failed, span2(maxLogGap)),
			Hint: "have the receiver log a fix every second"}
	case j.placed == 0 && j.own == 0:
		return &trace.Problem{File: file, Cause: fmt.Sprintf("the GNSS log, %s to %s, has a position for none of the %d readings, %s to %s",
			clock(begins), clock(ends), j.failed, clock(j.first), clock(j.last)),
			Hint: "set gnss_offset_s in the job file to the seconds by which the log's clock is ahead of the readings'"}
	case j.placed > 0:
		s.Problems = append(s.Problems, trace.Problem{File: file, Warn: true,
			Cause: fmt.Sprintf("%d readings have their position from the GNSS log by time, with a clock offset of %g s; %d could not be placed", j.placed, s.Job.GNSSOffsetS, j.failed),
			Hint:  "a second between the two clocks is a metre at walking pace: compare with a place that you know",
			Check: remark.PlacedByClock{Log: file, N: j.placed}})
	}
	return nil
}
