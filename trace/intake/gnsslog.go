package intake

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"sort"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// GNSSFix is one fix of a positioning receiver's log.
type GNSSFix struct {
	Time   time.Time // UTC
	Pos    geo.LonLat
	Fix    trace.Fix
	HDOP   float64 // Unknown where not given
	HAccM  float64 // one sigma per axis; Unknown where not given
	Broken bool    // the log says that it was interrupted before this fix
}

// GNSSLog is the log of a positioning receiver that was carried along, in
// order of time.
type GNSSLog struct {
	Name  string
	Fixes []GNSSFix
}

// maxLogGap is the longest time between two fixes that is bridged. Over 3 s a
// walker can turn a corner that nobody would see.
const maxLogGap = 3 * time.Second

// walkAccelMS2 is how hard a walker speeds up and brakes (root mean square, m/s²;
// from memory): it says how far off the straight line between two fixes the
// antenna may have been.
const walkAccelMS2 = 0.5

// ReadGNSSLog reads a log of NMEA 0183 sentences (GGA, RMC and GST; others are
// passed over) or of GPX track points. name is the file's, for messages.
// Sentences and points that cannot be used are reported and left out. Heights
// are left out too: they are the antenna's, not the ground's.
func ReadGNSSLog(r io.Reader, name string) (GNSSLog, []trace.Problem, error) {
	buf := bufio.NewReaderSize(r, 1<<16)
	head, err := buf.Peek(1 << 12)
	if err != nil && err != io.EOF {
		return GNSSLog{}, nil, readProblem(name, 0, err)
	}
	l := &logReader{name: name}
	head = bytes.TrimSpace(bytes.TrimPrefix(head, []byte(byteOrderMark)))
	switch {
	case len(head) == 0:
		return GNSSLog{}, nil, &trace.Problem{File: name, Cause: "the GNSS log is empty", Hint: logHint}
	case head[0] == '<':
		err = l.gpx(buf)
	default:
		err = l.nmea(buf)
	}
	if err != nil {
		return GNSSLog{}, l.problems, err
	}
	l.tellRest()
	if len(l.fixes) == 0 {
		return GNSSLog{}, l.problems, l.noFixes()
	}
	sort.SliceStable(l.fixes, func(a, b int) bool { return l.fixes[a].Time.Before(l.fixes[b].Time) })
	return GNSSLog{Name: name, Fixes: l.fixes}, l.problems, nil
}

const logHint = "a GNSS log is a file of NMEA 0183 sentences (GGA, with RMC for the date) or a GPX track with times"

// logReader is the state of reading one log.
type logReader struct {
	name      string
	fixes     []GNSSFix
	problems  []trace.Problem
	left      int // sentences or points left out
	sentences int // seen of the kinds that are read
	undated   int // fixes whose day is not known
}

// leave reports what is left out, at first one by one.
func (l *logReader) leave(line int, value, cause string) {
	const told = 20
	if l.left++; l.left <= told {
		l.problems = append(l.problems, trace.Problem{File: l.name, Row: line, Value: trace.Shorten(value), Cause: cause, Warn: true,
			Hint: "it is left out; a reading near it may have no position"})
	}
}

func (l *logReader) tellRest() {
	if more := l.left - len(l.problems); more > 0 {
		l.problems = append(l.problems, trace.Problem{File: l.name, Warn: true,
			Cause: fmt.Sprintf("%d more sentences or points could not be used and are left out", more), Hint: "log again, or check the cable and the card"})
	}
	if l.undated > 0 && len(l.fixes) > 0 {
		l.problems = append(l.problems, trace.Problem{File: l.name, Warn: true,
			Cause: fmt.Sprintf("%d positions have no date and are left out", l.undated), Hint: "log RMC beside GGA"})
	}
}

func (l *logReader) noFixes() error {
	p := &trace.Problem{File: l.name, Cause: "there is no position with a time in the GNSS log", Hint: logHint}
	switch {
	case l.undated > 0:
		p.Cause, p.Hint = "the positions of the GNSS log have no date: there is no valid RMC sentence", "log RMC beside GGA"
	case len(l.problems) > 0:
		p.Row = l.problems[0].Row
		p.Cause += "; the first that was left out: " + l.problems[0].Cause
	case l.sentences == 0:
		p.Cause = "this is not a GNSS log: neither NMEA 0183 sentences nor GPX track points are in it"
	}
	return p
}

// At returns the log's position at a time, interpolated between the two fixes
// about it along the straight line, with the worse quality of both; or the
// reason why there is none. The stated accuracy grows by what a walker may
// have strayed from that line: half of walkAccelMS2 times the product of the
// times to both fixes (the error bound of linear interpolation), but no more
// than if the antenna had been anywhere between the two.
func (l GNSSLog) At(t time.Time) (GNSSFix, string) {
	i := sort.Search(len(l.Fixes), func(i int) bool { return !l.Fixes[i].Time.Before(t) })
	if i < len(l.Fixes) && l.Fixes[i].Time.Equal(t) {
		return l.Fixes[i], ""
	}
	first, last := l.Fixes[0].Time, l.Fixes[len(l.Fixes)-1].Time
	switch {
	case i == 0:
		return GNSSFix{}, fmt.Sprintf("the GNSS log %s begins %s later, at %s", l.Name, span2(first.Sub(t)), clock(first))
	case i == len(l.Fixes):
		return GNSSFix{}, fmt.Sprintf("the GNSS log %s ended %s before, at %s", l.Name, span2(t.Sub(last)), clock(last))
	}
	a, b := l.Fixes[i-1], l.Fixes[i]
	gap := b.Time.Sub(a.Time)
	if gap > maxLogGap || b.Broken {
		return GNSSFix{}, fmt.Sprintf("the GNSS log %s has a gap of %s, from %s to %s", l.Name, span2(gap), clock(a.Time), clock(b.Time))
	}
	f := float64(t.Sub(a.Time)) / float64(gap)
	out := GNSSFix{Time: t, Fix: worseFix(a.Fix, b.Fix), HDOP: math.Max(a.HDOP, b.HDOP), HAccM: math.Max(a.HAccM, b.HAccM)}
	out.Pos.LatDeg = a.Pos.LatDeg + f*(b.Pos.LatDeg-a.Pos.LatDeg)
	out.Pos.LonDeg = math.Remainder(a.Pos.LonDeg+f*math.Remainder(b.Pos.LonDeg-a.Pos.LonDeg, 360), 360)
	bow := walkAccelMS2 / 2 * f * (1 - f) * gap.Seconds() * gap.Seconds()
	between := geo.RoughKm(a.Pos, b.Pos) * 1000 / math.Sqrt(12) * 4 * f * (1 - f)
	out.HAccM = math.Hypot(out.HAccM, math.Min(bow, between))
	return out, ""
}

// worseFix returns the quality that promises less.
func worseFix(a, b trace.Fix) trace.Fix {
	best := []trace.Fix{trace.FixRTK, trace.FixFloat, trace.FixPPS, trace.FixDifferential, trace.FixAutonomous, trace.FixUnknown}
	rank := func(f trace.Fix) int {
		for i, q := range best {
			if f == q {
				return i
			}
		}
		return len(best)
	}
	if rank(b) > rank(a) {
		return b
	}
	return a
}

// clock words a time for a message, with the day: clocks go wrong by days, too.
func clock(t time.Time) string { return t.UTC().Format("2006-01-02 15:04:05") + " UTC" }

// span2 words a duration in its two largest units.
func span2(d time.Duration) string {
	switch {
	case d < time.Minute:
		return fmt.Sprintf("%.1f s", d.Seconds())
	case d < time.Hour:
		return fmt.Sprintf("%d min %d s", int(d.Minutes()), int(d.Seconds())%60)
	case d < 48*time.Hour:
		return fmt.Sprintf("%d h %d min", int(d.Hours()), int(d.Minutes())%60)
	}
	return fmt.Sprintf("%d days", int(d.Hours()/24))
}
