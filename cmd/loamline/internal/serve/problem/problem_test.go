package problem

import (
	"strings"
	"testing"

	"loamline.example/trace"
)

// The words name an entry of a list as people do; its key is for programs.
func TestWordsNameEntriesAsPeopleDo(t *testing.T) {
	p := Of(&trace.Problem{File: "job.toml", Row: 3, Field: "line.0.hookup", Place: "[[line]] W-1: hookup", Cause: "spade is not a hookup"})
	if got := p.Words(); !strings.HasPrefix(got, "job.toml:3: [[line]] W-1: hookup: spade") || p.Field != "line.0.hookup" {
		t.Errorf("%s, %s", got, p.Field)
	}
}
