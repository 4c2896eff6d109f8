package cases_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/trace/tracetest/cases"
)

var dump = flag.String("dump", "", "folder in which every case is left, with its map")

// judged is a case with what became of it.
type judged struct {
	cases.Case
	cases.Judgement
}

// judge maps a case and judges the map.
func judge(t testing.TB, c cases.Case) judged { return judgeBy(t, c, cases.Options{}) }

func judgeBy(t testing.TB, c cases.Case, opt cases.Options) judged {
	t.Helper()
	text, err := mapOf(t.Context(), strings.ReplaceAll(c.Name, "/", "-"), c.Table, c.Job)
	if *dump != "" {
		leave(t, c, text)
	}
	if err != nil {
		return judged{c, cases.Refused(err)}
	}
	j, err := c.Judge(text, opt)
	if err != nil {
		t.Fatalf("%s: %v", c.Name, err)
	}
	return judged{c, j}
}

func leave(t testing.TB, c cases.Case, text []byte) {
	t.Helper()
	dir := filepath.Join(*dump, c.Name)
	truth, err := c.Truth.GeoJSON()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string][]byte{"trace.csv": c.Table, "job.toml": c.Job, "truth.geojson": truth, "map.geojson": text} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// TestTable makes the map of every case and judges it. No case may be silent.
// With -v it prints the table.
func TestTable(t *testing.T) { table(t, cases.All(), leastDrawn) }

// TestHandedOn does the same for the cases in testdata/cases.
func TestHandedOn(t *testing.T) { table(t, handedOn(t), leastHandedOn) }

// How many are drawn rightly today, and not only told. It may only grow.
const leastDrawn, leastHandedOn = 148, 23

func table(t *testing.T, all []cases.Case, least int) {
	var out []judged
	drawn := 0
	for _, c := range all {
		j := judge(t, c)
		out = append(out, j)
		if j.Verdict == cases.Drawn {
			drawn++
		}
		if j.Verdict == cases.Silent {
			t.Errorf("%s (%s) is drawn wrongly and silently: %s", c.Name, c.Shows, strings.Join(j.Why, "; "))
		}
		if c.Plain && (j.Verdict != cases.Drawn || len(j.Items) > 0) {
			t.Errorf("%s: a plain locate is %s, with %q to check", c.Name, j.Verdict, j.Items)
		}
	}
	if drawn < least {
		t.Errorf("%d of %d are drawn rightly; %d were", drawn, len(all), least)
	}
	t.Log("\n" + printed(out))
}

// printed is the table by mechanism, and below it case by case.
func printed(all []judged) string {
	var b strings.Builder
	var order []string
	counts := map[string]*[3]int{}
	var total [3]int
	for _, j := range all {
		m := j.Mechanism()
		if counts[m] == nil {
			counts[m] = new([3]int)
			order = append(order, m)
		}
		counts[m][j.Verdict]++
		total[j.Verdict]++
	}
	row := func(name string, n [3]int) { fmt.Fprintf(&b, "%-20s %5d %5d %6d\n", name, n[0], n[1], n[2]) }
	fmt.Fprintf(&b, "%-20s %5s %5s %6s\n", "mechanism", "drawn", "told", "silent")
	for _, m := range order {
		row(m, *counts[m])
	}
	row("all", total)
	b.WriteString("\n")
	for _, j := range all {
		fmt.Fprintf(&b, "%-42s %-6s items %d  %s\n", j.Name, j.Verdict, len(j.Items), strings.Join(j.Why, "; "))
	}
	return b.String()
}

// asFarNorth is how far north of the first pass the second lies, where a case
// has two that contradict each other and nothing says which is right.
var asFarNorth = map[string]float64{"two-days-0.25m": 0.25, "two-days-0.8m": 0.8, "there-and-back-1.2m": 1.2}

// handedOn reads the cases in testdata/cases.
func handedOn(t *testing.T) []cases.Case {
	t.Helper()
	root := filepath.Join("..", "..", "..", "testdata", "cases")
	folders, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var out []cases.Case
	for _, f := range folders {
		if !f.IsDir() {
			continue
		}
		c := cases.Case{Name: "handed-on/" + f.Name()}
		read := func(name string) []byte {
			b, err := os.ReadFile(filepath.Join(root, f.Name(), name))
			if err != nil && !(os.IsNotExist(err) && name == "job.toml") {
				t.Fatal(err)
			}
			return b
		}
		c.Table, c.Job = read("trace.csv"), read("job.toml")
		if c.Truth, err = cases.ReadTruth(read("truth.geojson")); err != nil {
			t.Fatalf("%s: %v", c.Name, err)
		}
		if err := c.Truth.ReadPlaces(c.Table); err != nil {
			t.Fatalf("%s: %v", c.Name, err)
		}
		if northM, ok := asFarNorth[f.Name()]; ok {
			c.Or = []cases.Truth{c.Truth.Moved(northM)}
		}
		out = append(out, c)
	}
	return out
}
