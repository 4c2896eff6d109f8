package main

import (
	"path/filepath"
	"strings"
)

// distinctNames names files by their base names; where different files share
// one, by as many of their folders as it takes, or the ledger could not tell
// their rows apart and lines without a name would run together. The same file
// given twice keeps one name.
func distinctNames(paths []string) []string {
	names := make([]string, len(paths))
	for i, p := range paths {
		for parts := 1; ; parts++ {
			names[i] = tail(p, parts)
			if names[i] == tail(p, parts+1) || !sharesTail(p, parts, paths) {
				break
			}
		}
	}
	return names
}

// sharesTail reports whether another of the files ends in the same parts.
func sharesTail(path string, parts int, paths []string) bool {
	for _, other := range paths {
		if filepath.Clean(other) != filepath.Clean(path) && tail(other, parts) == tail(path, parts) {
			return true
		}
	}
	return false
}

// tail is the last parts of a path, with slashes on every system.
func tail(path string, parts int) string {
	all := strings.Split(strings.TrimPrefix(filepath.ToSlash(filepath.Clean(path)), "/"), "/")
	return strings.Join(all[max(0, len(all)-parts):], "/")
}
