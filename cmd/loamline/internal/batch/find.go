package batch

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Job is one job as found: a job file with its tables, or a table alone.
type Job struct {
	Path     string // its folder below the folder of outputs, with slashes
	Name     string // base name of its outputs
	JobFile  string // empty for a table alone
	Tables   []string
	GNSSLogs []string
	folder   bool  // it is all of a folder
	problem  error // why it cannot be made, known already
}

// Found is what folders hold.
type Found struct {
	Jobs       []Job
	PassedOver []string // tables that an earlier map wrote, by their paths
}

// Find looks for jobs in folders and below, by their files:
//
//   - A folder with one job file (.toml) is a job; every table (.csv, .tsv) and
//     GNSS log (.nmea) in that very folder is its own. A job file called job.toml
//     gives the job its folder's name, any other its own.
//   - In a folder with several job files each takes what begins with its name:
//     north.toml takes north.csv and north-2.csv.
//   - Any other table is a job by itself.
//
// Folders whose names begin with a dot are passed over, and so is the folder of
// outputs.
func Find(folders []string, out string) (Found, error) {
	f := finder{out: realPath(out), seen: map[string]bool{}}
	folders = slices.Clone(folders) // the outer before the inner, in whichever order they are given
	slices.SortFunc(folders, func(a, b string) int { return strings.Compare(realPath(a), realPath(b)) })
	names := rootNames(folders)
	for i, folder := range folders {
		info, err := os.Stat(folder)
		if err == nil && !info.IsDir() {
			err = fmt.Errorf("%s is a file: give the folder that it is in", folder)
		}
		if err == nil {
			err = f.walk(folder, names[i])
		}
		if err != nil {
			return Found{}, err
		}
	}
	f.found.Jobs = setApart(f.found.Jobs)
	slices.Sort(f.found.PassedOver)
	return f.found, nil
}

type finder struct {
	out   string
	seen  map[string]bool // folders may be given twice, or one within another
	found Found
}

func (f *finder) walk(dir, path string) error {
	real := realPath(dir)
	if real == f.out || f.seen[real] {
		return nil
	}
	f.seen[real] = true
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("%s: the folder cannot be read: %w", dir, err)
	}
	var files []string
	for _, e := range entries {
		name := e.Name()
		switch info, err := os.Stat(filepath.Join(dir, name)); {
		case strings.HasPrefix(name, "."), err != nil && e.IsDir():
		case e.IsDir(): // a link to a folder is not followed: it may lead round in a circle
			if err := f.walk(filepath.Join(dir, name), path+"/"+name); err != nil {
				return err
			}
		case err != nil || info.Mode().IsRegular(): // one that cannot be read fails as a job
			files = append(files, name)
		}
	}
	f.sort(dir, path, files)
	return nil
}

// sort makes jobs of the files of a folder.
func (f *finder) sort(dir, path string, files []string) {
	var jobFiles, tables, logs []string
	for _, name := range files {
		switch strings.ToLower(filepath.Ext(name)) {
		case ".toml":
			jobFiles = append(jobFiles, name)
		case ".csv", ".tsv":
			if ownOutput(name, files) {
				f.found.PassedOver = append(f.found.PassedOver, filepath.Join(dir, name))
			} else {
				tables = append(tables, name)
			}
		case ".nmea":
			logs = append(logs, name)
		}
	}
	taken := map[string]bool{}
	for _, jf := range jobFiles {
		j := Job{Path: path, Name: stem(jf), JobFile: filepath.Join(dir, jf), folder: len(jobFiles) == 1}
		if j.Name == "job" {
			j.Name = path[strings.LastIndexByte(path, '/')+1:]
		}
		mine := func(string) bool { return true }
		if !j.folder {
			j.Path += "/" + stem(jf)
			mine = func(name string) bool { return ownerOf(name, jobFiles) == jf }
		}
		for _, t := range tables {
			if mine(t) {
				j.Tables, taken[t] = append(j.Tables, filepath.Join(dir, t)), true
			}
		}
		for _, l := range logs {
			if mine(l) {
				j.GNSSLogs = append(j.GNSSLogs, filepath.Join(dir, l))
			}
		}
		if len(j.Tables) == 0 {
			hint := "put its readings table beside it"
			if !j.folder {
				hint = fmt.Sprintf("the folder has several job files, so its table must begin with its name, as %s.csv or %s-1.csv", stem(jf), stem(jf))
			}
			j.problem = fmt.Errorf("%s: the job file has no readings table: %s", j.JobFile, hint)
		}
		f.found.Jobs = append(f.found.Jobs, j)
	}
	for _, t := range tables {
		if !taken[t] {
			f.found.Jobs = append(f.found.Jobs, Job{Path: path + "/" + stem(t), Name: stem(t), Tables: []string{filepath.Join(dir, t)}})
		}
	}
}

// ownerOf is the job file with the longest name that a file's begins with.
func ownerOf(name string, jobFiles []string) string {
	owner := ""
	for _, jf := range jobFiles {
		rest, ok := strings.CutPrefix(name, stem(jf))
		if ok && len(jf) > len(owner) && strings.ContainsAny(rest[:min(1, len(rest))], ".-_ ") {
			owner = jf
		}
	}
	return owner
}

// ownOutput reports whether a table is one that loamline map wrote: a map of the
// name lies beside it.
func ownOutput(name string, files []string) bool {
	for _, ending := range []string{"-lines.csv", "-readings.csv", "-stakeout.csv", "-records.csv"} {
		if base, ok := strings.CutSuffix(name, ending); ok && slices.Contains(files, base+".geojson") && slices.Contains(files, base+"-cautions.txt") {
			return true
		}
	}
	return false
}

// stem is a file's name without its ending.
func stem(name string) string {
	name = filepath.Base(name)
	if s := strings.TrimSuffix(name, filepath.Ext(name)); s != "" {
		return s
	}
	return name
}

// realPath is a path without links, as far as it exists.
func realPath(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real
	}
	if parent := filepath.Dir(abs); parent != abs {
		return filepath.Join(realPath(parent), filepath.Base(abs))
	}
	return abs
}
