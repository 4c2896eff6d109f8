package batch

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// lay makes files in a folder, each with a line in it.
func lay(t *testing.T, names ...string) string {
	t.Helper()
	dir := t.TempDir()
	for _, n := range names {
		path := filepath.Join(dir, filepath.FromSlash(n))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("lat,lon\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// told lists jobs as path: name of the outputs = files.
func told(f Found) []string {
	var out []string
	for _, j := range f.Jobs {
		var files []string
		for _, p := range slices.Concat([]string{j.JobFile}, j.Tables, j.GNSSLogs) {
			if p != "" {
				files = append(files, filepath.Base(p))
			}
		}
		s := j.Path + ": " + j.Name + " = " + strings.Join(files, " ")
		if j.problem != nil {
			s += " !"
		}
		out = append(out, s)
	}
	return out
}

func TestFind(t *testing.T) {
	for _, tt := range []struct {
		name    string
		files   []string
		folders []string
		want    []string
		passed  int
	}{
		{"a table alone", []string{"a/x.csv", "a/y.TSV", "a/notes.txt"}, []string{"a"},
			[]string{"a/x: x = x.csv", "a/y: y = y.TSV"}, 0},
		{"a folder with its job file", []string{"a/job.toml", "a/1.csv", "a/2.csv", "a/log.nmea", "a/b/3.csv"}, []string{"a"},
			[]string{"a: a = job.toml 1.csv 2.csv log.nmea", "a/b/3: 3 = 3.csv"}, 0},
		{"a job file with a name", []string{"a/b/street.toml", "a/b/1.csv"}, []string{"a"}, []string{"a/b: street = street.toml 1.csv"}, 0},
		{"several job files", []string{"a/n.toml", "a/n-2.toml", "a/n.csv", "a/n-1.csv", "a/n-2.csv", "a/n-2-b.csv", "a/n2.csv", "a/s.toml"}, []string{"a"},
			[]string{"a/n: n = n.toml n-1.csv n.csv", "a/n-2: n-2 = n-2.toml n-2-b.csv n-2.csv", "a/n2: n2 = n2.csv", "a/s: s = s.toml !"}, 0},
		{"one name, two tables", []string{"a/x.csv", "a/x.tsv", "a/X.csv"}, []string{"a"},
			[]string{"a/X.csv: X = X.csv", "a/x.csv (2): x = x.csv", "a/x.tsv: x = x.tsv"}, 0},
		{"a table called as a folder", []string{"a/x.csv", "a/x/job.toml", "a/x/1.csv"}, []string{"a"},
			[]string{"a/x: x = job.toml 1.csv", "a/x.csv: x = x.csv"}, 0},
		{"folders called alike", []string{"p/a/x.csv", "q/a/x.csv", "r/x.csv"}, []string{"q/a", "r", "p/a"},
			[]string{"p-a/x: x = x.csv", "q-a/x: x = x.csv", "r/x: x = x.csv"}, 0},
		{"a folder twice, and one within it", []string{"a/x.csv", "a/b/y.csv"}, []string{"a/b", "a", "a"},
			[]string{"a/b/y: y = y.csv", "a/x: x = x.csv"}, 0},
		{"what map wrote", []string{"a/x.csv", "a/x.geojson", "a/x-cautions.txt", "a/x-lines.csv", "a/x-stakeout.csv", "a/y-lines.csv"}, []string{"a"},
			[]string{"a/x: x = x.csv", "a/y-lines: y-lines = y-lines.csv"}, 2},
		{"the outputs", []string{"a/x.csv", "a/out/z.csv", "a/.git/z.csv"}, []string{"a"}, []string{"a/x: x = x.csv"}, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := lay(t, tt.files...)
			var folders []string
			for _, f := range tt.folders {
				folders = append(folders, filepath.Join(dir, filepath.FromSlash(f)))
			}
			found, err := Find(folders, filepath.Join(dir, "a", "out"))
			if got := told(found); err != nil || !slices.Equal(got, tt.want) || len(found.PassedOver) != tt.passed {
				t.Errorf("%v, %d passed over\n got %q\nwant %q", err, len(found.PassedOver), got, tt.want)
			}
			slices.Reverse(folders)
			again, err := Find(folders, filepath.Join(dir, "a", "out"))
			if err != nil || !slices.Equal(told(again), told(found)) {
				t.Errorf("in another order: %v %q", err, told(again))
			}
		})
	}
}
