package intake

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// filePlace is a line and a character of a file, from 1; zero where unknown.
type filePlace struct{ line, column int }

// before reports whether a place comes earlier in the file.
func (p filePlace) before(q filePlace) bool {
	return p.line < q.line || p.line == q.line && p.column < q.column
}

// keyPlaces finds where each key of a TOML document stands, by its path: "ticket",
// "tolerance.half_width", "line.0.name". The document has been decoded before, so
// that a syntax error ends it here without a word.
func keyPlaces(text []byte) map[string]filePlace {
	k := keyFinder{places: map[string]filePlace{}, arrays: map[string]int{}}
	k.parser.Reset(text)
	table := ""
	for k.parser.NextExpression() {
		switch e := k.parser.Expression(); e.Kind {
		case unstable.Table:
			table = k.path("", e.Key())
		case unstable.ArrayTable:
			name := k.path("", e.Key())
			table = fmt.Sprintf("%s.%d", name, k.arrays[name])
			k.arrays[name]++
			k.note(table, k.places[name])
			k.places[table] = k.last
		case unstable.KeyValue:
			k.keyValue(table, e)
		}
	}
	return k.places
}

type keyFinder struct {
	parser unstable.Parser
	places map[string]filePlace
	arrays map[string]int // how many tables of an array have come
	last   filePlace      // of the key read last
}

// path joins the parts of a key below a table, and notes where each first stands.
func (k *keyFinder) path(table string, key unstable.Iterator) string {
	path := table
	for first := true; key.Next(); first = false {
		n := key.Node()
		path = join(path, string(n.Data))
		start := k.parser.Shape(n.Raw).Start
		at := filePlace{start.Line, start.Column}
		if first {
			k.last = at
		}
		k.note(path, at)
	}
	return path
}

// note keeps the first place of a path.
func (k *keyFinder) note(path string, at filePlace) {
	if _, ok := k.places[path]; !ok {
		k.places[path] = at
	}
}

// keyValue notes a key, and those of tables written within its value.
func (k *keyFinder) keyValue(table string, e *unstable.Node) {
	path := k.path(table, e.Key())
	k.value(path, e.Value())
}

func (k *keyFinder) value(path string, v *unstable.Node) {
	switch v.Kind {
	case unstable.InlineTable:
		for it := v.Children(); it.Next(); {
			k.keyValue(path, it.Node())
		}
	case unstable.Array:
		i := 0
		for it := v.Children(); it.Next(); i++ {
			k.value(fmt.Sprintf("%s.%d", path, i), it.Node())
		}
	}
}

// parent is the path of the table that holds a key, "" for the top one.
func parent(path string) string { return path[:max(0, strings.LastIndex(path, "."))] }
