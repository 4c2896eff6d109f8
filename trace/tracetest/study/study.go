// Package study says how much of a slow study a run of the tests makes, and lets tests
// of small heaps run with less collecting of garbage. It is for tests.
//
// A plain run makes a part of each study that still has every kind in it, and leaves a few
// out; with
// LOAMLINE_STUDIES set, as .ci/run sets it, each is made in full.
package study

import (
	"flag"
	"os"
	"runtime/debug"
	"testing"
)

// Full tells whether studies are to be made in full.
func Full() bool { return os.Getenv("LOAMLINE_STUDIES") != "" }

// Of is how many of a study's cases are made: all in full, a part otherwise.
func Of(part, all int) int {
	if Full() {
		return all
	}
	return part
}

// Some is a part of a study's cases, the first ones, or all in full.
func Some[T any](part int, all ...T) []T { return all[:Of(part, len(all))] }

// Only leaves a test to full studies: a walk over many screens, say, whose parts others
// test.
func Only(t *testing.T) {
	t.Helper()
	if !Full() {
		t.Skip("a study: LOAMLINE_STUDIES asks for it")
	}
}

// garbage is how much of it may pile up, in percent of what is in use.
const garbage = 400

// Main runs the tests of a package for TestMain, for packages whose tests ask for gigabytes in all and hold a few
// megabytes at a time, of whose time the collector took a third, and that measure no
// memory in use. A GOGC in the environment stands, and benchmarks are measured as they
// are.
func Main(m *testing.M) {
	flag.Parse()
	if bench := flag.Lookup("test.bench"); os.Getenv("GOGC") == "" && (bench == nil || bench.Value.String() == "") {
		debug.SetGCPercent(garbage)
	}
	os.Exit(m.Run())
}
