package bleed

import (
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Two findings of one neighbour a reading apart are one stretch; with opposed
// currents, or 8 m apart, they are two.
func TestFindingsWithoutAHoleAreOne(t *testing.T) {
	c := testColumns()
	made := func(from, to int, share float64) finding {
		f := finding{from: from, to: to}
		f.c, f.p[pShare], f.logOdds = &coupler{col: c}, share, float64(to-from)
		return f
	}
	for _, x := range []struct {
		name string
		next finding
		want int
	}{
		{"next reading", made(11, 15, 0.3), 1},
		{"next but one", made(12, 15, 0.3), 2},
		{"opposed", made(11, 15, -0.3), 2},
		{"overlapping, opposed", made(9, 15, -0.3), 1},
	} {
		got := merge(nil, []finding{made(4, 10, 0.3), x.next})
		if len(got) != x.want {
			t.Errorf("%s: %d stretches, want %d", x.name, len(got), x.want)
		}
		if x.want == 1 && (got[0].from != 4 || got[0].to != 15) {
			t.Errorf("%s: readings %d to %d, want 4 to 15", x.name, got[0].from, got[0].to)
		}
	}
}

// A close run that goes on where a stretch ends leaves no hole of one reading's
// spacing.
func TestCloseRunJoinsStretch(t *testing.T) {
	c := testColumns()
	e := neighbour{name: "B", at: make([]neighbourAt, len(c.rd))}
	for k := range e.at {
		e.at[k] = neighbourAt{asideM: 1, depthM: 1, sigmaM: 0.05}
	}
	found := []Stretch{{FromM: 20, ToM: 30, Grade: trace.GradeStrong, Neighbor: "B"}}
	got := closeRuns(c, e, found)
	if len(got) != 2 || got[0].ToM != 20 || got[1].FromM != 30 {
		t.Errorf("want runs up to 20 m and from 30 m, got %+v", got)
	}
	for _, s := range got {
		if words := strings.Join(words.Remarks(geo.Metric, s.Evidence), " "); strings.Contains(words, "would not show") ||
			!strings.Contains(words, "Assumed, not measured: up to 20 % of the line's current") || !strings.Contains(words, "a depth would be wrong by up to") {
			t.Errorf("what may couple unseen is an assumption, and it has an effect on depth too: %q", words)
		}
	}
}

// Of a line that lies on one side and then on the other no one distance is told: it is
// crossed.
func TestCloseRunThatCrossesSaysSo(t *testing.T) {
	c := testColumns()
	for _, crossing := range []bool{false, true} {
		e := neighbour{name: "B", at: make([]neighbourAt, len(c.rd))}
		for k := range e.at {
			e.at[k] = neighbourAt{asideM: 1, depthM: 1, sigmaM: 0.05}
			if crossing {
				e.at[k].asideM = 0.5 - float64(k)/float64(len(e.at)-1)
			}
		}
		got := closeRuns(c, e, nil)
		if len(got) != 1 {
			t.Fatalf("%+v", got)
		}
		if said := strings.Join(words.Remarks(geo.Metric, got[0].Evidence), " "); strings.HasPrefix(said, "Crosses 'B', and runs near it for ") != crossing || strings.HasPrefix(said, "Runs 1.0 depths (1.00 m) from 'B'") == crossing {
			t.Errorf("crossing %v: %q", crossing, said)
		}
	}
}
