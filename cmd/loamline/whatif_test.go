package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
)

func whatIfRun(t *testing.T, args ...string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	app := &cli.App{Writer: &out, ErrWriter: io.Discard, Commands: []*cli.Command{whatIfCommand()},
		ExitErrHandler: func(*cli.Context, error) {}}
	err := app.RunContext(context.Background(), append([]string{"loamline", "whatif"}, args...))
	return out.String(), err
}

// Two lines 1 m deep, 1 m apart, +30 %: peak +0.082 m, null +0.151 m, depth
// 1.171 m, current 1.354 (by superposition on a 0.2 mm grid, antennas 0.40 m).
func TestWhatIfFigures(t *testing.T) {
	out, err := whatIfRun(t, "--depth", "1 m", "--neighbor", "1 m, 1 m, 0.3")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Peak (the paint) 0.08 m right of the line", "Null             0.15 m right of the line; null minus peak +0.07 m",
		"1.17 m, true 1.00 m (+17 %)", "135 mA, true 100 mA (+35 %)", "right/left 1.23", "grows by 0.30 m", "lopsided",
		"nothing was measured", "licensed practice take precedence",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// Symmetric neighbours fool every check at one place: depth 32 % wrong.
func TestWhatIfFooled(t *testing.T) {
	out, err := whatIfRun(t, "--neighbor", "1 m, 1 m, 0.3", "--neighbor", "-1 m, 1 m, 0.3")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out, "(+32 %)") || !strings.Contains(out, "No check at this one place would notice") {
		t.Error(out)
	}
}

func TestWhatIfUSUnits(t *testing.T) {
	out, err := whatIfRun(t, "--units", "us", "--depth", "3 ft", "--neighbor", "-2 ft, 30 in, -0.5, 40")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out, "Line 3 ft deep") || !strings.Contains(out, "2 ft left of the line") || !strings.Contains(out, "2 ft 6 in deep") || !strings.Contains(out, "out of phase") {
		t.Error(out)
	}
}

func TestWhatIfPlotIsWellFormed(t *testing.T) {
	file := filepath.Join(t.TempDir(), "field.svg")
	if _, err := whatIfRun(t, "--neighbor", "0.8 m, 1.1 m, -0.4", "--svg", file); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for d := xml.NewDecoder(bytes.NewReader(b)); ; {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			seen[e.Name.Local] = true
		}
	}
	if !seen["title"] || !seen["desc"] {
		t.Error("the plot has no title or no description for people who cannot see it")
	}
	if bytes.Count(b, []byte("licensed practice take precedence")) != 2 || bytes.Count(b, []byte("nothing was measured")) != 2 {
		t.Error("the cautions are not in the picture and in its description")
	}
	if bytes.Contains(b, []byte("NaN")) {
		t.Error("the plot has NaN in it")
	}
}

func TestWhatIfWrongUsage(t *testing.T) {
	for _, args := range [][]string{
		{"--depth", "1"}, {"--depth", "-1 m"}, {"--neighbor", "1 m, 1 m"}, {"--neighbor", "1 m, 1 m, much"},
		{"--neighbor", "1, 1 m, 0.3"}, {"--current", "0"}, {"--units", "furlong"}, {"stray"},
	} {
		if out, err := whatIfRun(t, args...); err == nil || out != "" {
			t.Errorf("%q: error %v, output %q; want an error and no output", args, err, out)
		}
	}
}
