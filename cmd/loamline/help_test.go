package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"unicode/utf8"
)

// The help of every command is read on a terminal of 80 columns: no line is wider but a
// command of an example, nothing of it is lost, and words go on below where they began.
func TestHelpFitsATerminal(t *testing.T) {
	for _, command := range []string{"", "map", "batch", "serve", "compare", "whatif", "simulate", "accuracy", "template", "archive"} {
		var out, errs bytes.Buffer
		args := []string{"loamline", command, "--help"}
		if command == "" {
			args = []string{"loamline", "--help"}
		}
		if status := run(context.Background(), args, streams{in: strings.NewReader(""), out: &out, err: &errs}); status != statusOK || out.Len() == 0 {
			t.Fatalf("%s: status %d, %q", command, status, errs.String())
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if utf8.RuneCountInString(line) > helpColumns && !example(line) {
				t.Errorf("%s: %q has more than %d columns", command, line, helpColumns)
			}
		}
		if command == "map" {
			words := strings.Join(strings.Fields(out.String()), " ")
			for _, want := range []string{"PNG, JPEG or PDF with a world file beside it", "GeoTIFF, or geospatial PDF", "no line depends on it", "gpx (waypoints for re-marking)"} {
				if !strings.Contains(words, want) {
					t.Errorf("the help of map does not say %q", want)
				}
			}
		}
	}
	const beside, below = "   --a NAME  one two\n", "   --long-name-of-all NAME, --another-long-name-of-the-same NAME"
	got := wrappedHelp(beside + "   --b NAME  " + strings.Repeat("word ", 30) + "\n" + below + "  " + strings.Repeat("more ", 30) + "\n")
	if !strings.HasPrefix(got, beside+"   --b NAME  word word") || !strings.Contains(got, " word\n             word word") || strings.Count(got, "word") != 30 {
		t.Errorf("words do not go on below where they began: %q", got)
	}
	if !strings.Contains(got, "\n"+below+"\n"+strings.Repeat(" ", helpHangMost)+"more more") || strings.Count(got, "more") != 30 {
		t.Errorf("the words of a wide name do not stand below it: %q", got)
	}
}
