package intake

import (
	"errors"
	"strings"
	"testing"

	"loamline.example/trace"
)

// An entry of a list is told by its name, or as people count, with its place in the file
// and the nearest right value; programs still find it by its key.
func TestEntriesAreNamedAsPeopleDo(t *testing.T) {
	for text, want := range map[string]string{
		"[[line]]\nname = \"W-1\"\nhookup = \"clamped\"\n":                              `job.toml:3:1: [[line]] W-1: hookup: clamped is not a hookup: use one of direct, clamp, induction, passive; the nearest is "clamp"`,
		"[[line]]\nhookup = \"clamped\"\nname = \"W-1\"\n":                              `job.toml:2:1: [[line]] W-1: hookup: clamped`,
		"[[line]]\nname = \"a\"\n[[line]]\nhookup = \"spade\"\n":                        "job.toml:4:1: the 2nd [[line]]: hookup: spade is not a hookup: use one of direct, clamp, induction, passive",
		"[[line]]\nutility = \"gass\"\n":                                                `the 1st [[line]]: utility: gass is not a class of the marking colour code: use one of `,
		"[[line]]\nutility = \"gas\"\n":                                                 "job.toml:1:3: the 1st [[line]]: this line has no name",
		"[[line]]\nname = \"a\\nb\"\nfreq_hz = \"x\"\n":                                 "the 1st [[line]]: freq_hz: ",
		"[[line]]\nname = \"W-1\"\nhokup = \"clamp\"\n":                                 `[[line]] W-1: hokup: this key is not known; the nearest right key is "hookup"`,
		"[[feature]]\nname = \"hydrant 7\"\nposition = [ 1 ]\n":                         "job.toml:3:1: [[feature]] hydrant 7: position: longitude and latitude",
		"[[reference]]\nfile = \"town.shp\"\nrole = \"lines\"\n":                        `[[reference]] town.shp: role: lines is not known here: use "line" or "background"; the nearest is "line"`,
		"[[reference]]\nfile = \"postgres://u:secret@h/d?table=a\"\nrole = \"lines\"\n": `the 1st [[reference]]: role: `,
		"[tolerance]\nrule = 3\n":                                                       "job.toml:2:1: tolerance.rule: ",
		"[[feature]]\nname = \"a\"\nposition = [ 1, 2 ]\n[[feature]]\nx = 1\n":          "job.toml:5:1: the 2nd [[feature]]: x: this key",
	} {
		_, err := ReadJobFile(strings.NewReader(text), "job.toml")
		var p *trace.Problem
		if !errors.As(err, &p) || !strings.Contains(p.Error(), want) || strings.Contains(p.Error(), "secret") {
			t.Errorf("%s\nsays %v, not %s", text, err, want)
		}
	}
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 21: "21st", 103: "103rd", 113: "113th"} {
		if got := ordinal(n); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
}
