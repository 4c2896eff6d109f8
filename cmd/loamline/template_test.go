package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/intake"
)

// statedJob is the job template with every setting stated.
func statedJob() string {
	return regexp.MustCompile(`(?m)^#([a-z\[])`).ReplaceAllString(jobTemplate, "$1")
}

// Blank as it is and with everything stated, the job file is one.
func TestJobTemplateIsAJobFile(t *testing.T) {
	for name, text := range map[string]string{"blank": jobTemplate, "stated": statedJob()} {
		job, err := intake.ReadJobFile(strings.NewReader(text), "job.toml")
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if name == "stated" && (job.Ticket != "T-2041" || len(job.Lines) != 1 || len(job.References) != 1 || job.Columns["depth_in"] == "") {
			t.Errorf("the settings did not arrive: %+v", job)
		}
	}
}

// The reader names the keys that it knows where a wrong one is like none of
// them: the template has them all.
func TestJobTemplateHasEveryKey(t *testing.T) {
	for _, table := range []string{"", "[tolerance]", "[output]", "[[line]]", "[[reference]]"} {
		_, err := intake.ReadJobFile(strings.NewReader(table+"\nzzzzzzzzzzzz = 1\n"), "job.toml")
		if err == nil {
			t.Fatalf("%s: a wrong key was taken", table)
		}
		_, list, ok := strings.Cut(err.Error(), "known keys here: ")
		if !ok {
			t.Fatalf("%s: %v names no keys", table, err)
		}
		text := "\n" + jobTemplate
		if table != "" {
			_, text, ok = strings.Cut(text, "\n#"+table+"\n")
			if !ok {
				t.Fatalf("the template has no %s", table)
			}
			text, _, _ = strings.Cut(text, "\n\n")
			text = "\n" + text
		}
		for _, key := range strings.Split(list, ", ") {
			if !strings.Contains(text, "\n#"+key+" = ") && !strings.Contains(text, "\n"+key+" = ") &&
				!strings.Contains(text, "\n#["+key+"]\n") && !strings.Contains(text, "\n#[["+key+"]]\n") {
				t.Errorf("%s %s is not in the template", table, key)
			}
		}
	}
}

// Every field that a readings table can have is in the template, in one unit;
// those left out have another name in its comments.
func TestReadingsTemplateHasEveryField(t *testing.T) {
	for _, u := range []geo.Units{geo.Metric, geo.US} {
		text := readingsTemplate(u)
		lines := strings.Split(strings.TrimSpace(text), "\n")
		header := strings.Split(lines[len(lines)-1], ",")
		for _, n := range header {
			if !slices.Contains(intake.ColumnNames(), n) {
				t.Errorf("%s is no column", n)
			}
		}
		unit := regexp.MustCompile(`_(m|ft|in|cm|usft|hz|khz|ma)$`)
		for _, n := range intake.ColumnNames() {
			field := unit.ReplaceAllString(n, "")
			if field == "raise" || field == "east" || field == "north" || n == "signal_db" {
				continue // the former name of lift; the other position; the other scale
			}
			if !slices.ContainsFunc(header, func(h string) bool { return unit.ReplaceAllString(h, "") == field }) {
				t.Errorf("%s: there is no %s in %q", u, n, header)
			}
		}
		for _, n := range []string{"east_m", "north_m", "signal_db"} {
			if !strings.Contains(text, n) {
				t.Errorf("%s is not spoken of", n)
			}
		}
	}
}

// The templates as written, filled in, make a map, and nothing in them is a
// problem. Filled-in files are never written over.
func TestTemplatesFilledIn(t *testing.T) {
	for _, units := range []string{"metric", "us"} {
		dir := filepath.Join(t.TempDir(), "street")
		call := func(args ...string) (int, string) {
			var out, errs bytes.Buffer
			status := run(context.Background(), append([]string{"loamline"}, args...), streams{in: strings.NewReader(""), out: &out, err: &errs})
			return status, out.String() + errs.String()
		}
		if status, said := call("template", "--out", dir, "--units", units); status != statusOK {
			t.Fatal(said)
		}
		table, job := filepath.Join(dir, readingsTemplateName), filepath.Join(dir, jobTemplateName)
		text, err := os.ReadFile(table)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSpace(string(text)), "\n")
		value := map[string]string{"line": "W-1", "lat": "44.1000%d0", "lon": "-71.502310", "fix": "4", "h_acc_m": "0.02", "h_acc_ft": "0.06",
			"depth_m": "1.20", "depth_in": "47", "current_ma": "80", "null_offset_m": "0.01", "null_offset_in": "0.5",
			"phase": "with", "freq_hz": "8000", "hookup": "direct", "exposed": "no", "time": "2026-05-12T09:3%d:00-05:00"}
		for i := range 8 {
			var row []string
			for _, n := range strings.Split(lines[len(lines)-1], ",") {
				row = append(row, strings.ReplaceAll(value[n], "%d", string(rune('0'+i))))
			}
			text = append(text, strings.Join(row, ",")+"\n"...)
		}
		stated, _, _ := strings.Cut(statedJob(), "[[reference]]") // what follows names other files
		if os.WriteFile(table, text, 0o600) != nil || os.WriteFile(job, []byte(stated), 0o600) != nil {
			t.Fatal("cannot fill in")
		}
		status, said := call("map", table, "--job", job, "--out", dir)
		if status != statusOK || !strings.Contains(said, "1 line drawn of 1") || !strings.Contains(said, "= 8 used") || strings.Contains(said, "problem") {
			t.Errorf("status %d: %s", status, said)
		}
		if status, said := call("template", "--out", dir); status != statusFailed || !strings.Contains(said, "such a file already") {
			t.Errorf("status %d: %s", status, said)
		}
		if now, _ := os.ReadFile(table); !bytes.Equal(now, text) {
			t.Error("a filled-in table was written over")
		}
	}
}
