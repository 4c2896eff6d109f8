package batch

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// rootNames are what the folders that are given go by: their own names, and where
// two are called alike as many of the folders above them as it takes.
func rootNames(folders []string) []string {
	real := make([]string, len(folders))
	for i, f := range folders {
		real[i] = strings.Trim(filepath.ToSlash(strings.TrimPrefix(realPath(f), filepath.VolumeName(realPath(f)))), "/")
	}
	names := make([]string, len(folders))
	for i, r := range real {
		parts := strings.Split(r, "/")
		for n := 1; n <= len(parts); n++ {
			tail := strings.Join(parts[len(parts)-n:], "/")
			names[i] = strings.ReplaceAll(tail, "/", "-")
			if !slices.ContainsFunc(real, func(o string) bool { return o != r && (o == tail || strings.HasSuffix(o, "/"+tail)) }) {
				break
			}
		}
		if names[i] == "" {
			names[i] = "root"
		}
	}
	return names
}

// setApart sorts jobs by their paths and keeps those apart that have the same:
// one made from files takes the whole name of its first, and what is alike even
// then a number. Two paths that differ in the case of letters are the same, for on
// some disks they are.
func setApart(jobs []Job) []Job {
	slices.SortFunc(jobs, func(a, b Job) int {
		if c := strings.Compare(a.Path, b.Path); c != 0 {
			return c
		}
		return strings.Compare(a.source(), b.source())
	})
	count := map[string]int{}
	for _, j := range jobs {
		count[strings.ToLower(j.Path)]++
	}
	taken := map[string]bool{}
	for i := range jobs {
		j := &jobs[i]
		if count[strings.ToLower(j.Path)] > 1 && !j.folder {
			j.Path = j.Path[:strings.LastIndexByte(j.Path, '/')+1] + filepath.Base(j.source())
		}
	}
	for i := range jobs {
		j := &jobs[i]
		base := j.Path
		for n := 2; taken[strings.ToLower(j.Path)]; n++ {
			j.Path = fmt.Sprintf("%s (%d)", base, n)
		}
		taken[strings.ToLower(j.Path)] = true
	}
	slices.SortStableFunc(jobs, func(a, b Job) int { return strings.Compare(a.Path, b.Path) })
	return jobs
}

// source is the file that a job is named by.
func (j Job) source() string {
	if j.JobFile != "" {
		return j.JobFile
	}
	return j.Tables[0]
}
