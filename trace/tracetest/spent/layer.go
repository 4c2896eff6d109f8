package spent

import (
	"fmt"
	"io"
	"strings"
)

// Layer is a GeoJSON layer of about so many bytes, a town's: short lines of eight
// corners with the properties that such a layer has. It is made while it is read, so
// that nothing of it is in memory but what the reader keeps.
func Layer(bytes int64) io.Reader { return &layer{bytes: bytes} }

type layer struct {
	bytes, sent int64
	n           int
	rest        string
	ended       bool
}

// Read implements io.Reader.
func (l *layer) Read(p []byte) (int, error) {
	if l.rest == "" {
		switch {
		case l.n == 0:
			l.rest = `{"type":"FeatureCollection","features":[`
		case l.ended:
			return 0, io.EOF
		case l.sent >= l.bytes:
			l.rest, l.ended = "]}", true
		default:
			l.rest = line(l.n)
		}
		l.n++
	}
	n := copy(p, l.rest)
	l.rest, l.sent = l.rest[n:], l.sent+int64(n)
	return n, nil
}

func line(n int) string {
	var b strings.Builder
	if n > 1 {
		b.WriteByte(',')
	}
	fmt.Fprintf(&b, `{"type":"Feature","properties":{"asset_id":"main %d","depth_m":1.2,"material":"ductile iron","laid":"1974-05-01","remarks":"as handed over by the owner, not surveyed"},"geometry":{"type":"LineString","coordinates":[`, n)
	for k := range 8 {
		if k > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "[%.9f,%.9f]", -30.5+float64(n%1000)*1e-4+float64(k)*1e-5, 44.1+float64(n/1000)*1e-3)
	}
	b.WriteString("]}}")
	return b.String()
}
