package intake

import (
	"errors"
	"strings"
	"testing"

	"loamline.example/trace"
)

// A message points at its key however the document is written.
func TestProblemsPointAtTheirKeys(t *testing.T) {
	for name, c := range map[string]struct {
		text        string
		row, column int
		field       string
	}{
		"below texts of several lines": {"area = \"\"\"\nepoch = 3\n\"\"\"\n  epoch = 26.36\n", 4, 3, "epoch"},
		"dotted":                       {"ticket = \"a\"\ntolerance.half_width = \"18 in\"\ntolerance . rule = 3\n", 3, 13, "tolerance.rule"},
		"quoted":                       {"\"tolerance\".'half_width' = 3\n", 1, 13, "tolerance.half_width"},
		"within a line":                {"tolerance = { half_width = \"18 in\", rule = 3 }\n", 1, 37, "tolerance.rule"},
		"a list within a line":         {"line = [ { name = \"a\" },\n  { name = \"b\", utility = \"tea\" } ]\n", 2, 17, "line.1.utility"},
		"second of a list":             {"[[line]]\nname = \"a\"\n[[line]]\nname = \"b\"\nfreq_hz = \"x\"\n", 5, 1, "line.1.freq_hz"},
		"none of its own":              {"[[line]]\nname = \"a\"\n\n [[line]]\nutility = \"gas\"\n", 4, 4, "line.1"},
	} {
		_, err := ReadJobFile(strings.NewReader(c.text), "job.toml")
		var p *trace.Problem
		if !errors.As(err, &p) || p.Row != c.row || p.Column != c.column || p.Field != c.field {
			t.Errorf("%s: %v, want line %d, character %d, %s", name, err, c.row, c.column, c.field)
		}
	}
}
