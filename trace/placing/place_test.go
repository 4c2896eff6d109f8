package placing

import (
	"errors"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/fixture"
)

func TestPlaceRecognisesSwappedAndImpossibleRows(t *testing.T) {
	tests := []struct {
		name   string
		lon    float64
		lat    float64
		reason string
	}{
		{"swapped, latitude out of range", 44.1, -151.5, "swapped"},
		{"swapped within range", 44.1, -71.5, "swapped"},
		{"longitude sign", 71.5, 44.1, "sign of the longitude"},
		{"latitude sign", -71.5, -44.1, "sign of the latitude"},
		{"null island", 0, 0, "impossible position: 0, 0"},
		{"0 to 360", 288.5, 44.1, "should be -71.5"},
		{"off the globe", -200, 95, "impossible position"},
		{"elsewhere", -75, 40, "from the rest of the line"},
		{"none", trace.Unknown, trace.Unknown, "no position"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rs := fixture.Walk(0, "A", -71.5, 44.1, 6)
			rs[3].Geographic = geo.LonLat{LonDeg: tt.lon, LatDeg: tt.lat}
			p := placer{inputs: []trace.Input{{Name: "a.csv"}}}
			if _, err := p.place(rs); err != nil {
				t.Fatal(err)
			}
			if rs[3].Status != trace.StatusSetAside || !strings.Contains(said(rs[3].Reason), tt.reason) {
				t.Errorf("%q: %q, want %q", rs[3].Status, rs[3].Reason, tt.reason)
			}
			if rs[3].Placed() || !rs[2].Placed() {
				t.Errorf("the row is placed: %v; the one before it: %v", rs[3].Placed(), rs[2].Placed())
			}
			for i := range rs {
				if i != 3 && rs[i].Status != "" {
					t.Errorf("row %d was set aside too: %s", i, rs[i].Reason)
				}
			}
		})
	}
}

// A place is impossible beyond 50 km from the rest of its line (judgement), of 111.2 km a
// degree of latitude on a sphere.
func TestPlaceFarFromTheRest(t *testing.T) {
	for km, want := range map[float64]bool{49: false, 51: true} {
		rs := fixture.Walk(0, "A", -71.5, 44.1, 6)
		rs[3].Geographic = geo.LonLat{LonDeg: -71.5, LatDeg: 44.1 + km/111.195}
		p := placer{inputs: []trace.Input{{Name: "a.csv"}}}
		if _, err := p.place(rs); err != nil {
			t.Fatal(err)
		}
		if aside := rs[3].Status == trace.StatusSetAside; aside != want {
			t.Errorf("%g km: %q %q", km, rs[3].Status, said(rs[3].Reason))
		}
	}
}

func TestPlaceTurnsASignLostInAWholeFile(t *testing.T) {
	rs := append(fixture.Walk(0, "A", 71.5, 44.1, 5), fixture.Walk(1, "B", -71.5, 44.1, 5)...)
	p := placer{inputs: []trace.Input{{Name: "a.csv"}, {Name: "b.csv"}}, anchors: []geo.LonLat{{LonDeg: -71.5, LatDeg: 44.1}}}
	if _, err := p.place(rs); err != nil {
		t.Fatal(err)
	}
	if rs[0].Geographic.LonDeg != -71.5 {
		t.Errorf("longitude is %v", rs[0].Geographic.LonDeg)
	}
	if len(p.problems) != 1 || p.problems[0].File != "a.csv" || !strings.Contains(p.problems[0].Cause, "sign of the longitude") {
		t.Errorf("problems: %v", p.problems)
	}
}

// A file that a turned sign would bring no nearer than to another town stays as
// it is.
func TestPlaceTurnsNoSignForAnotherTown(t *testing.T) {
	rs := append(fixture.Walk(0, "A", 71.5, 44.1, 5), fixture.Walk(1, "B", -71.5, 45.1, 5)...)
	p := placer{inputs: []trace.Input{{Name: "a.csv"}, {Name: "b.csv"}}, anchors: []geo.LonLat{{LonDeg: -71.5, LatDeg: 45.1}}}
	_, err := p.place(rs)
	if err == nil || !strings.Contains(err.Error(), `b.csv:2: line "B" lies 9445 km from line "A"; correct`) || rs[0].Geographic.LonDeg != 71.5 || len(p.problems) != 0 {
		t.Errorf("longitude %g, problems %v, error %v", rs[0].Geographic.LonDeg, p.problems, err)
	}
}

// Two lines of one file in different parts of the world are no job: the plane that
// both are drawn in would stretch one of them.
func TestPlaceRefusesLinesFarApart(t *testing.T) {
	for _, tt := range []struct {
		name     string
		lon, lat float64
		want     string // "" where the job stands
	}{
		{"a long way off", -71.5, 44.9, ""}, // 89 km
		{"another town", -71.5, 45.1, `a.csv:2: line "B" lies 111 km from line "A"; correct its positions`},
		{"a lost sign", 71.5, 44.1, "beside it if the sign of the longitude is lost in all its rows"},
		{"swapped", 44.1, -71.5, "beside it if latitude and longitude are swapped in all its rows"},
	} {
		rs := append(fixture.Walk(0, "A", -71.5, 44.1, 6), fixture.Walk(0, "B", tt.lon, tt.lat, 5)...)
		p := placer{inputs: []trace.Input{{Name: "a.csv"}}}
		_, err := p.place(rs)
		if (err != nil) != (tt.want != "") || err != nil && !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

func TestPlaceWillNotGuessWhichOfTwoFilesIsWrong(t *testing.T) {
	rs := append(fixture.Walk(0, "A", 71.5, 44.1, 5), fixture.Walk(1, "B", -71.5, 44.1, 5)...)
	p := placer{inputs: []trace.Input{{Name: "a.csv"}, {Name: "b.csv"}}}
	_, err := p.place(rs)
	var problem *trace.Problem
	if !errors.As(err, &problem) || !strings.Contains(problem.Cause, "lost the sign") {
		t.Errorf("error: %v", err)
	}
}

// One transmitter may itself have lost its sign: it turns nobody else's.
func TestPlaceDoesNotTurnOnOneTransmitter(t *testing.T) {
	rs := fixture.Walk(0, "A", -30.5, 44.1, 5)
	p := placer{inputs: []trace.Input{{Name: "a.csv"}}, anchors: []geo.LonLat{{LonDeg: 30.5, LatDeg: 44.1}}}
	_, err := p.place(rs)
	var problem *trace.Problem
	if !errors.As(err, &problem) || !strings.Contains(problem.Cause, "lost the sign of its longitude") || rs[0].Geographic.LonDeg != -30.5 {
		t.Errorf("longitude %g, error: %v", rs[0].Geographic.LonDeg, err)
	}
}

func TestPlaceOnTheAntimeridian(t *testing.T) {
	rs := fixture.Walk(0, "A", 179.99999, -17, 4)
	rs[2].Geographic.LonDeg, rs[3].Geographic.LonDeg = -179.99999, -179.99999
	p := placer{inputs: []trace.Input{{Name: "a.csv"}}}
	if _, err := p.place(rs); err != nil {
		t.Fatal(err)
	}
	if d := rs[1].Pos.Dist(rs[2].Pos); d > 4 {
		t.Errorf("neighbours across the antimeridian are %.1f m apart", d)
	}
}
