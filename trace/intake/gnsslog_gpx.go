package intake

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// gpxPoint is what a track point is read for.
type gpxPoint struct {
	Lat  string `xml:"lat,attr"`
	Lon  string `xml:"lon,attr"`
	Time string `xml:"time"`
	Fix  string `xml:"fix"`
	HDOP string `xml:"hdop"`
}

// gpx reads the track points of a GPX 1.0 or 1.1 file. A new track segment
// means that the receiver was off or had no fix in between.
func (l *logReader) gpx(r io.Reader) error {
	dec := xml.NewDecoder(&markupGuard{r: r})
	broken := false
	for {
		token, err := dec.Token()
		line, _ := dec.InputPos()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return &trace.Problem{File: l.name, Row: line, Cause: "the GPX file cannot be read: " + err.Error(), Err: err, Hint: "export the track again"}
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "trkseg":
			broken = true
		case "trkpt":
			var p gpxPoint
			if err := dec.DecodeElement(&p, &start); err != nil {
				return &trace.Problem{File: l.name, Row: line, Cause: "the GPX file cannot be read: " + err.Error(), Err: err, Hint: "export the track again"}
			}
			if l.point(p, line, broken) {
				broken = false
			}
		}
	}
}

// point takes a track point, and reports whether it is a fix.
func (l *logReader) point(p gpxPoint, line int, broken bool) bool {
	l.sentences++
	f := GNSSFix{Fix: trace.FixUnknown, HDOP: trace.Unknown, HAccM: trace.Unknown, Broken: broken}
	pos := geo.LonLat{LonDeg: math.NaN(), LatDeg: math.NaN()}
	if anyNumber.put(&pos.LatDeg, p.Lat, 1) != nil || anyNumber.put(&pos.LonDeg, p.Lon, 1) != nil || !pos.Valid() {
		l.leave(line, p.Lat+" "+p.Lon, "the track point has no possible position")
		return false
	}
	var r trace.Reading
	if err := setTime(&r, strings.TrimSpace(p.Time)); err != nil {
		l.leave(line, p.Time, "the track point has no time as in RFC 3339")
		return false
	}
	switch strings.TrimSpace(p.Fix) {
	case "none":
		return false
	case "2d", "3d":
		f.Fix = trace.FixAutonomous
	case "dgps":
		f.Fix = trace.FixDifferential
	case "pps":
		f.Fix = trace.FixPPS
	}
	_ = aboveZero.put(&f.HDOP, strings.TrimSpace(p.HDOP), 1) // an empty one stays unknown
	f.Time, f.Pos = r.Time.UTC().Truncate(time.Microsecond), pos
	l.fixes = append(l.fixes, f)
	return true
}

// markupGuard ends a file in which too much text stands without markup, before
// a parser has gathered it all.
type markupGuard struct {
	r    io.Reader
	text int
}

var errNoMarkup = errors.New("too much text without markup")

// Read implements io.Reader.
func (g *markupGuard) Read(p []byte) (int, error) {
	n, err := g.r.Read(p)
	for _, c := range p[:n] {
		if g.text++; c == '<' || c == '>' {
			g.text = 0
		}
		if g.text > maxLineBytes {
			return 0, errNoMarkup
		}
	}
	return n, err
}
