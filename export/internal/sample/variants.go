package sample

import (
	"crypto/sha256"
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Moved puts the sheet elsewhere on the globe.
func Moved(s *trace.Sheet, origin geo.LonLat) *trace.Sheet {
	s.Plane = geo.NewPlane(origin)
	for _, l := range s.Lines {
		for i := range l.Readings {
			l.Readings[i].Geographic = s.Plane.LonLat(l.Readings[i].Pos)
		}
	}
	return s
}

func WithReadings(n int) *trace.Sheet {
	s := Sheet()
	l := &s.Lines[0]
	one := l.Readings
	l.Readings = nil
	for len(l.Readings) < n {
		l.Readings = append(l.Readings, one...)
	}
	return s
}

// EveryKind is the sample with one finding of every kind added, so that no
// exporter can forget one.
func EveryKind() *trace.Sheet {
	s := Sheet()
	s.Lines[1].Findings = append(s.Lines[1].Findings, finding.All()...)
	return s
}

// OtherJob is a second job 3 m north of the first.
func OtherJob() *trace.Sheet {
	s := Sheet()
	s.Job.Ticket, s.Name = "T-2042", "mill-lane"
	ReadingsOf(s, "mill lane")
	s.Plane = geo.NewPlane(s.Plane.LonLat(geo.XY{X: 0, Y: 3}))
	return s
}

// ReadingsOf gives a job readings of its own, as its fingerprints tell.
func ReadingsOf(s *trace.Sheet, content string) *trace.Sheet {
	s.Inputs = []trace.Input{{Name: "trace.csv", SHA256: fmt.Sprintf("%x", sha256.Sum256([]byte(content))), Kind: trace.InputTable}}
	return s
}
