package kml

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
)

var depthLabel = regexp.MustCompile(`(?s)<name>([^<]*)</name>(?:(?:<[^P]|[^<])*?)<styleUrl>#depth-[^<]*</styleUrl>.*?<coordinates>([^<]*)</coordinates>`)

// Depths of lines that run close are written beside each other and not in one place, and
// no line is left without.
func TestDepthsOfCloseLinesDoNotMeet(t *testing.T) {
	beside := func(apartM float64) []geo.XY {
		path := sample.Straight(100, 0, 51)
		for i := range path {
			path[i].Y += apartM
		}
		return path
	}
	s := sample.Of(geo.Metric, beside(0), beside(0.4), beside(1.2))
	for i, name := range []string{"A", "B", "C"} {
		s.Lines[i].Setup.Name = name
	}
	type label struct {
		line string
		at   geo.XY
	}
	var all []label
	of := map[string]int{}
	for _, m := range depthLabel.FindAllStringSubmatch(string(check.Write(t, s, Write)), -1) {
		c := strings.Split(m[2], ",")
		lon, _ := strconv.ParseFloat(c[0], 64)
		lat, _ := strconv.ParseFloat(c[1], 64)
		l := label{m[1][:1], s.Plane.XY(geo.LonLat{LonDeg: lon, LatDeg: lat})}
		for _, o := range all {
			if d := o.at.Dist(l.at); d < 2.2 {
				t.Errorf("%q is %.1f m from another label of %s", m[1], d, o.line)
			}
		}
		if m, _, _ := strings.Cut(strings.TrimPrefix(m[1], l.line+" "), " m"); !strings.HasSuffix(m, ".0") {
			t.Errorf("%q is at no round station", m)
		}
		all = append(all, l)
		of[l.line]++
	}
	for _, l := range s.Lines {
		if n := of[l.Setup.Name]; n < 3 {
			t.Errorf("line %s has %d depths", l.Setup.Name, n)
		}
	}
}
