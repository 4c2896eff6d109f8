package linename

import (
	"testing"

	"loamline.example/trace"
)

// A line without a reading is told where the job file names it, with the name that is
// nearest among the lines that the job file does not describe.
func TestUnreadLinesAreTold(t *testing.T) {
	s := &trace.Sheet{Name: "walk", Inputs: []trace.Input{{Name: "walk.csv", Kind: trace.InputTable}, {Name: "job.toml", Kind: trace.InputJobFile}},
		Lines: []trace.Line{{Setup: trace.LineSetup{Name: "W-1"}}, {Setup: trace.LineSetup{Name: "Gas main"}}},
		Job:   trace.Job{Lines: []trace.LineSetup{{Name: "W-1"}, {Name: "gas mian"}, {Name: "W-2"}}}}
	TellUnread(s, []trace.FilePlace{{Row: 2, Column: 1}, {Row: 5, Column: 1}, {Row: 8, Column: 3}})
	want := []string{
		`job.toml:5:1: line: the job file names a line without a reading ("gas mian"); check the line's name in the trace; the nearest name there is "Gas main"`,
		`job.toml:8:3: line: the job file names a line without a reading ("W-2"); check the line's name in the trace`, // W-1 is described itself
	}
	if len(s.Problems) != len(want) {
		t.Fatalf("%v", s.Problems)
	}
	for i := range want {
		if got := s.Problems[i].Error(); got != want[i] {
			t.Errorf("%s, not %s", got, want[i])
		}
	}
}
