package unheard

import (
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A note counts by which the reading was not taken over the line, and none that says where
// something else lies, or the line itself.
func TestBesideNotes(t *testing.T) {
	for _, note := range []string{
		"offset 1.5 m left", "Offset 5' L", "offset left 2 m", "offset 2 m", "O/S 3 ft N", "offset by 1 m to the right, car", "1.5 m offset", "shot offset 1.2m right",
		"parked car, shot 1.0 m left of line", "shot 3.5 ft left of mark", "taken 2 m off", "taken 1 m to the right of the line", "taken 0.8 m right (fence)", "read 18\" off",
		"position 1 m north of line because of wall", "point taken 2 ft east", "rover 1 m left due to trees", "antenna is 0,5 m right", "1.5 m left of line", "about 2 m off the line",
		"not over line", "not on the mark", "off line", "beside the line", "reading taken beside the line", "no sky here, beside mark",
		"tomada 1,5 m a la izquierda", "desplazada 2 m al norte de la línea", "al lado de la línea", "gemessen 1 m links der Leitung", "1,5 m links neben der Leitung", "neben der Leitung",
		"décalé de 1,5 m à gauche", "prise 2 m à droite de la ligne", "à côté de la ligne",
	} {
		if !saysBeside(note) {
			t.Errorf("%q is taken for nothing", note)
		}
	}
	for _, note := range []string{
		"", "1.5 m off kerb", "line 2 m north of kerb", "offset 2 m from edge of pavement", "2 m from fence", "measured 0.5 m from kerb", "measured 1.2 m deep", "null offset 0.2 m left",
		"depth offset 0.1 m", "valve 2 m left of line", "gas 1 m left of line", "read 1.2 m", "lift 0.3 m", "point 12", "left turn", "line turns left", "north side of street", "pole 14",
		"over line", "on the line", "crosses off line 3", "3 m to valve", "taken twice", "read 80 mA, 8 kHz", "line 2", "offset fitting", "shot 12 left in the list",
	} {
		if saysBeside(note) {
			t.Errorf("%q is taken for a reading beside the line", note)
		}
	}
}

// Readings whose notes say so are one stretch that is told, apart from those where the
// signal was lost, also where both lie close.
func TestBesideIsTold(t *testing.T) {
	l := walked(40, 0, 0, nil)
	for i := 20; i < 26; i++ {
		l.Readings[i].Note = "parked car, shot 1.0 m left of line"
	}
	l.Readings[27].Note = "lost signal"
	got := Doubts(l, func(*trace.Reading) float64 { return 0.015 })
	if len(got) != 2 {
		t.Fatalf("told %d times: %+v", len(got), got)
	}
	if why := got[0].(finding.Doubt).Why.(remark.Unheard); !why.Beside || why.N != 6 {
		t.Errorf("told %+v, want 6 readings beside the line", why)
	}
	if why := got[1].(finding.Doubt).Why.(remark.Unheard); why.Beside || why.N != 1 {
		t.Errorf("told %+v, want one reading where the signal was lost", why)
	}
}
