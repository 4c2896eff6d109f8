package intake

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// nmeaEpoch gathers what the sentences of one time of day say.
type nmeaEpoch struct {
	line   int
	tod    time.Duration // time of day, UTC
	day    time.Time     // midnight, from a valid RMC of this epoch
	fix    GNSSFix
	gga    bool
	placed bool
}

// nmeaLog reads NMEA 0183 sentences into a log.
type nmeaLog struct {
	*logReader
	now     nmeaEpoch
	open    bool
	last    time.Time   // of the last fix whose day is known
	waiting []nmeaEpoch // for the first date
}

// nmea reads sentences wherever they stand in a line, so that binary messages
// between them and a recorder's own stamps before them do no harm.
func (l *logReader) nmea(r *bufio.Reader) error {
	n := &nmeaLog{logReader: l}
	for line := 1; ; {
		raw, err := r.ReadSlice('\n')
		for _, part := range strings.Split(string(raw), "$")[1:] {
			n.sentence(strings.TrimRight(part, " \t\r\n\x00"), line)
		}
		switch {
		case err == nil:
			line++
		case errors.Is(err, io.EOF):
			n.flush()
			l.undated = len(n.waiting)
			return nil
		case !errors.Is(err, bufio.ErrBufferFull):
			return readProblem(l.name, line, err)
		}
	}
}

// sentence reads one sentence without its dollar sign.
func (n *nmeaLog) sentence(s string, line int) {
	if len(s) < 6 || s[5] != ',' || s[0] == 'P' {
		return
	}
	kind := s[2:5]
	if kind != "GGA" && kind != "RMC" && kind != "GST" {
		return
	}
	n.sentences++
	fields, err := nmeaFields(s)
	if err == nil {
		err = n.take(kind, fields, line)
	}
	if err != nil {
		n.leave(line, "$"+s, err.Error())
	}
}

// nmeaFields checks a sentence's checksum, the exclusive or of the characters
// between $ and *, and splits it.
func nmeaFields(s string) ([]string, error) {
	body, sum, found := strings.Cut(s, "*")
	if !found || len(sum) != 2 {
		return nil, errors.New("the sentence has no checksum")
	}
	want, err := strconv.ParseUint(sum, 16, 8)
	if err != nil {
		return nil, errors.New("the sentence has no checksum")
	}
	got := byte(0)
	for i := 0; i < len(body); i++ {
		got ^= body[i]
	}
	if got != byte(want) {
		return nil, fmt.Errorf("the checksum is wrong: the sentence is damaged")
	}
	return strings.Split(body, ","), nil
}

// take adds a sentence to the epoch of its time.
func (n *nmeaLog) take(kind string, f []string, line int) error {
	least := map[string]int{"GGA": 9, "RMC": 10, "GST": 8}[kind]
	if len(f) < least {
		return fmt.Errorf("the sentence has %d fields; %s has at least %d", len(f), kind, least)
	}
	if f[1] == "" {
		return nil // no time yet: the receiver is starting
	}
	tod, err := nmeaTime(f[1])
	if err != nil {
		return err
	}
	if !n.open || n.now.tod != tod {
		n.flush()
		n.now = nmeaEpoch{line: line, tod: tod, fix: GNSSFix{Fix: trace.FixUnknown, HDOP: trace.Unknown, HAccM: trace.Unknown}}
		n.open = true
	}
	switch kind {
	case "GGA":
		return n.now.takeGGA(f)
	case "RMC":
		return n.now.takeRMC(f)
	}
	return n.now.takeGST(f)
}

// takeGGA reads position, quality and dilution: $--GGA,time,lat,N,lon,E,
// quality,satellites,HDOP,…
func (e *nmeaEpoch) takeGGA(f []string) error {
	if e.gga {
		return nil // of another constellation, at the same time
	}
	quality, err := strconv.Atoi(f[6])
	if err != nil || quality < 0 || quality > 8 {
		return errors.New("the quality is not one of 0 to 8")
	}
	if e.gga = true; quality == 0 {
		e.placed = false
		return nil
	}
	pos, err := nmeaPosition(f[2:6])
	if err != nil {
		e.placed = false
		return err
	}
	e.placed, e.fix.Pos, e.fix.Fix = true, pos, trace.Fix(quality)
	_ = aboveZero.put(&e.fix.HDOP, f[8], 1) // an empty one stays unknown
	return nil
}

// takeRMC reads the date, and the position where GGA gives none: $--RMC,time,
// status,lat,N,lon,E,speed,course,date,variation,E,mode.
func (e *nmeaEpoch) takeRMC(f []string) error {
	if f[2] != "A" {
		return nil // void: not even the date can be relied on
	}
	day, err := time.Parse("020106", f[9])
	if err != nil {
		return fmt.Errorf("%q is not a date as ddmmyy", f[9])
	}
	if day.Year() < 1980 { // two digits: GPS began in 1980
		day = day.AddDate(100, 0, 0)
	}
	e.day = day
	if e.gga {
		return nil
	}
	pos, err := nmeaPosition(f[3:7])
	if err != nil {
		return err
	}
	e.placed, e.fix.Pos = true, pos
	if len(f) > 12 {
		// The mode indicator of NMEA 0183 version 2.3 and later.
		modes := map[string]trace.Fix{"A": trace.FixAutonomous, "D": trace.FixDifferential, "P": trace.FixPPS, "R": trace.FixRTK, "F": trace.FixFloat,
			"E": trace.FixDeadReckoning, "M": trace.FixManual, "S": trace.FixSimulator, "N": trace.FixNone}
		if q, ok := modes[f[12]]; ok {
			e.fix.Fix = q
		}
	}
	return nil
}

// takeGST reads the accuracy: $--GST,time,rms,major,minor,angle,latitude
// error,longitude error,…, standard deviations in metres.
func (e *nmeaEpoch) takeGST(f []string) error {
	lat, lon := trace.Unknown, trace.Unknown
	if f[6] == "" || f[7] == "" {
		return nil
	}
	if notNegative.put(&lat, f[6], 1) != nil || notNegative.put(&lon, f[7], 1) != nil {
		return errors.New("the standard deviations are not numbers")
	}
	if acc := math.Hypot(lat, lon) / math.Sqrt2; acc > 0 {
		e.fix.HAccM = acc
	}
	return nil
}

// flush ends an epoch, and gives it its day: the date of its own RMC, else the
// day on which it is nearest to the fix before.
func (n *nmeaLog) flush() {
	if !n.open {
		return
	}
	e := n.now
	n.open = false
	switch {
	case !e.day.IsZero():
		n.last = e.day.Add(e.tod)
		n.dateWaiting(n.last)
	case n.last.IsZero():
		if e.placed {
			n.waiting = append(n.waiting, e)
		}
		return
	default:
		n.last = nearestDay(n.last, e.tod)
	}
	if e.placed {
		e.fix.Time = n.last
		n.fixes = append(n.fixes, e.fix)
	}
}

// dateWaiting dates the fixes before the first date, from the last one back.
func (n *nmeaLog) dateWaiting(next time.Time) {
	for i := len(n.waiting) - 1; i >= 0; i-- {
		next = nearestDay(next, n.waiting[i].tod)
		n.waiting[i].fix.Time = next
	}
	for _, e := range n.waiting {
		n.fixes = append(n.fixes, e.fix)
	}
	n.waiting = nil
}

// nearestDay returns the time of day on the day that brings it nearest to t.
func nearestDay(t time.Time, tod time.Duration) time.Time {
	out := t.Truncate(24 * time.Hour).Add(tod)
	switch d := out.Sub(t); {
	case d > 12*time.Hour:
		return out.Add(-24 * time.Hour)
	case d < -12*time.Hour:
		return out.Add(24 * time.Hour)
	}
	return out
}

// nmeaTime reads hhmmss.sss.
func nmeaTime(s string) (time.Duration, error) {
	seconds := trace.Unknown
	if len(s) >= 6 && isDigits(s[:6]) && notNegative.put(&seconds, s[4:], 1) == nil {
		h, _ := strconv.Atoi(s[:2])
		m, _ := strconv.Atoi(s[2:4])
		if h < 24 && m < 60 && seconds < 61 { // 60 in a leap second
			return time.Duration(h)*time.Hour + time.Duration(m)*time.Minute + time.Duration(seconds*1e6+0.5)*time.Microsecond, nil
		}
	}
	return 0, fmt.Errorf("%q is not a time as hhmmss", s)
}

// nmeaPosition reads latitude ddmm.mmm, N or S, longitude dddmm.mmm, E or W.
func nmeaPosition(f []string) (geo.LonLat, error) {
	lat, errLat := nmeaAngle(f[0], f[1], "N", "S", 90)
	lon, errLon := nmeaAngle(f[2], f[3], "E", "W", 180)
	return geo.LonLat{LonDeg: lon, LatDeg: lat}, errors.Join(errLat, errLon)
}

func nmeaAngle(s, side, plus, minus string, most float64) (float64, error) {
	bad := fmt.Errorf("%q %q is not an angle in degrees and minutes with %s or %s", s, side, plus, minus)
	point := strings.IndexByte(s+".", '.')
	if point < 3 || !isDigits(s[:point]) || side != plus && side != minus {
		return 0, bad
	}
	degrees, _ := strconv.Atoi(s[:point-2])
	minutes := trace.Unknown
	if notNegative.put(&minutes, s[point-2:], 1) != nil || minutes >= 60 {
		return 0, bad
	}
	v := float64(degrees) + minutes/60
	if v > most {
		return 0, bad
	}
	if side == minus {
		v = -v
	}
	return v, nil
}
