// Package finding has the kinds of finding that a map tells of a line: each is a file of
// its own, which declares it. The set is closed: All has one of each kind, and a test
// knows one that is not declared, or that stands elsewhere. Whoever tells kinds apart
// does so with [PerKind].
package finding

import (
	"slices"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// specimens has one of each kind.
var specimens []trace.Finding

// declare adds a kind, by one of it.
func declare(specimen trace.Finding) trace.Finding {
	specimens = append(specimens, specimen)
	return specimen
}

// All returns one of each kind, in the order of their roles' names: for tests that no
// exporter forgets one, and for what goes by the kinds' roles alone.
func All() []trace.Finding {
	out := slices.Clone(specimens)
	slices.SortFunc(out, func(a, b trace.Finding) int { return strings.Compare(a.Role(), b.Role()) })
	return out
}

// specimenPath is the stretch that specimens are about.
func specimenPath() []geo.XY { return []geo.XY{{X: 0, Y: 0}, {X: 10, Y: 0}} }
