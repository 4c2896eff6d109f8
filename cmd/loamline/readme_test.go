package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"loamline.example/export"
)

const (
	readmePath   = "../../README.md"
	accuracyPath = "../../testdata/accuracy.md"
)

// The README's figures are those of the committed table, the worse world's beside
// the better one's; after a new table remake them with
//
//	go test ./cmd/loamline -run Readme -update
func TestReadmeQuotesTheTable(t *testing.T) {
	text, table := readText(t, readmePath), accuracyTable{t, readText(t, accuracyPath)}
	want := text
	for begin, rows := range map[string]string{
		"| over all families | first world | second world |\n| --- | --- | --- |\n":                                                                                   table.lines(),
		"| columns at hand | found, % (of how many) | jumps onto another line found with RTK, % | false stretches a km on quiet lines |\n| --- | --- | --- | --- |\n": table.bleedOver(),
	} {
		head, rest, ok := strings.Cut(want, begin)
		if !ok {
			t.Fatalf("the README has no table that begins %q", begin)
		}
		_, tail, _ := strings.Cut(rest, "\n\n")
		want = head + begin + rows + "\n" + tail
	}
	seeds := regexp.MustCompile(`--seeds (\d+)`)
	made := seeds.FindStringSubmatch(table.text)
	jobs := "40"
	command := "`loamline accuracy --out testdata/accuracy.md`"
	if made != nil {
		jobs, command = made[1], fmt.Sprintf("`loamline accuracy --seeds %s --out testdata/accuracy.md`", made[1])
	}
	want = regexp.MustCompile("`loamline accuracy (--seeds \\d+ )?--out testdata/accuracy.md` remakes").ReplaceAllLiteralString(want, command+" remakes")
	want = regexp.MustCompile(`\d+ jobs a family`).ReplaceAllLiteralString(want, jobs+" jobs a family")
	if *update {
		if err := os.WriteFile(readmePath, []byte(want), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if want != text {
		a, b := strings.Split(text, "\n"), strings.Split(want, "\n")
		for i := range min(len(a), len(b)) {
			if a[i] != b[i] {
				t.Fatalf("README.md:%d says\n\t%s\nand the table\n\t%s", i+1, a[i], b[i])
			}
		}
	}
}

// What the README says of the third world is what its committed table has.
func TestReadmeQuotesTheThirdWorld(t *testing.T) {
	var cells []string
	for line := range strings.SplitSeq(readText(t, "../../testdata/thirdworld.md"), "\n") {
		if strings.HasPrefix(line, "| every job |") {
			cells = strings.Split(strings.Trim(line, "| "), " | ")
			break
		}
	}
	if len(cells) < 17 {
		t.Fatalf("the table has no row of every job: %q", cells)
	}
	jobs, across, depth, dangers, flagged, advised, silent := cells[1], cells[2], cells[5], cells[11], cells[12], cells[14], cells[16]
	text := readText(t, readmePath)
	for _, want := range []string{
		fmt.Sprintf("Of its %s jobs bands hold %s %% across and %s %% in depth", jobs, across, depth),
		fmt.Sprintf("%s of %s dangerous stretches are flagged and %s more are advised on", flagged, dangers, advised),
		fmt.Sprintf("%s maps are somewhere wrong", silent),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the README does not say %q", want)
		}
	}
}

// Whoever chooses an output finds it in the README.
func TestReadmeNamesEveryFormat(t *testing.T) {
	text := readText(t, readmePath)
	_, files, _ := strings.Cut(text, "| `--write` |")
	files, _, _ = strings.Cut(files, "\n\n")
	for _, name := range export.FormatNames() {
		if !strings.Contains(files, "`"+name+"`") {
			t.Errorf("the README's list of what --write takes has no %s", name)
		}
	}
}

// The README leaves what is looked up to pages of their own: each link leads to a page that is
// there, and to a heading that it has.
func TestPagesLinkToWhatIsThere(t *testing.T) {
	pages, err := filepath.Glob("../../examples/*.md")
	if err != nil || len(pages) < 8 {
		t.Fatalf("%d pages: %v", len(pages), err)
	}
	link := regexp.MustCompile(`\]\(([^)#:]*)(#[^)]*)?\)`)
	for _, page := range append(pages, readmePath, "../../DEVELOPERS.md") {
		for _, m := range link.FindAllStringSubmatch(readText(t, page), -1) {
			to := page
			if m[1] != "" {
				to = filepath.Join(filepath.Dir(page), m[1])
			}
			if _, err := os.Stat(to); err != nil {
				t.Errorf("%s: %s: %v", page, m[0], err)
				continue
			}
			if m[2] != "" && !slices.Contains(anchors(readText(t, to)), m[2]) {
				t.Errorf("%s: %s: there is no such heading", page, m[0])
			}
		}
	}
}

// anchors are the headings of a page as links name them.
func anchors(text string) (out []string) {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") {
			name := strings.ToLower(strings.TrimSpace(strings.TrimLeft(line, "#")))
			out = append(out, "#"+strings.ReplaceAll(regexp.MustCompile(`[^a-z0-9 -]`).ReplaceAllString(name, ""), " ", "-"))
		}
	}
	return out
}

func readText(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// accuracyTable is testdata/accuracy.md.
type accuracyTable struct {
	t    *testing.T
	text string
}

// row returns the cells of the row that begins with some cells, in the section
// under a heading.
func (a accuracyTable) row(heading string, first ...string) []string {
	a.t.Helper()
	_, section, ok := strings.Cut(a.text, "### "+heading)
	if !ok {
		a.t.Fatalf("the table has no section %q", heading)
	}
	section, _, _ = strings.Cut(section, "\n#")
	begin := "| " + strings.Join(first, " | ") + " |"
	for line := range strings.SplitSeq(section, "\n") {
		if strings.HasPrefix(line, begin) {
			cells := strings.Split(strings.Trim(line, "| "), " | ")
			return cells[len(first):]
		}
	}
	a.t.Fatalf("%q has no row %q", heading, begin)
	return nil
}

var bothWorlds = []string{"first", "second"}

// lines words what is measured of centerlines and zones.
func (a accuracyTable) lines() string {
	cells := map[string][2]string{}
	order := []string{}
	for i, world := range bothWorlds {
		put := func(what, text string) {
			c, known := cells[what]
			if !known {
				order = append(order, what)
			}
			c[i] = text
			cells[what] = c
		}
		across := a.row("Across the line", world, "**all**")
		best := across[1]
		for _, c := range across[1:5] {
			if number(a.t, c) < number(a.t, best) {
				best = c
			}
		}
		put("drawn line to the true one, RMSE, m (oracle; best scripted method)", fmt.Sprintf("%s (%s; %s)", across[0], across[5], best))
		bands := a.row("95 % bands", world, "**all**")
		put("95 % band across holds, % (median half-width, m)", fmt.Sprintf("%s (%s)", bands[0], bands[3]))
		put("95 % band in depth holds, % (median half-width, m)", fmt.Sprintf("%s (%s)", bands[6], bands[8]))
		aside := a.row("Readings set aside", world, "**all**")
		put("jumping positions beyond four sigma set aside, % (of how many)", aside[0])
		put("good readings set aside, % (of how many)", aside[2])
		var zones, told []string
		for _, kind := range []string{"**quiet**", "**coupled**", "**jumps**"} {
			r := a.row("Zones", world, kind)
			zones, told = append(zones, r[0]), append(told, r[7])
		}
		put("true line inside the caution zone, %: quiet lines / coupled / jumps", strings.Join(zones, " / "))
		put("in it, or in a gap, or where an item or a stretch of suspicion tells of it, %: quiet lines / coupled / jumps", strings.Join(told, " / "))
		sure := a.row("Wrong and looking sure", world, "**all but fooling**")
		alone, _, _ := strings.Cut(sure[3], " ")
		put("maps that are wrong and look sure, %: with all columns / with position and depth alone (of how many)", strings.Replace(sure[0], " (", " / "+alone+" (", 1))
	}
	var b strings.Builder
	for _, what := range order {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", what, cells[what][0], cells[what][1])
	}
	return b.String()
}

// bleedOver words what is found of bleed-over, by the columns at hand.
func (a accuracyTable) bleedOver() string {
	var b strings.Builder
	for _, columns := range []string{"all columns", "without current and signal", "without null offset", "position and depth alone"} {
		var found, jumps, wrong []string
		for _, world := range bothWorlds {
			r := a.row("Found and missed", columns, world)
			found, jumps, wrong = append(found, r[0]), append(jumps, r[4]), append(wrong, r[6])
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", columns, strings.Join(found, " / "), strings.Join(jumps, " / "), strings.Join(wrong, " / "))
	}
	return b.String()
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	var v float64
	if _, err := fmt.Sscan(text, &v); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return v
}
