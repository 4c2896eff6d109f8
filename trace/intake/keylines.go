package intake

import (
	"fmt"
	"strings"
)

// keyLines finds the line on which each key of a TOML document stands, by its
// path: "ticket", "tolerance.half_width", "line.0.name". It serves messages
// only: where a document is written in a way that it does not see, a message
// has no line.
func keyLines(text string) map[string]int {
	lines := map[string]int{}
	arrays := map[string]int{}
	table, multiline := "", ""
	for i, raw := range strings.Split(text, "\n") {
		line := strings.TrimSpace(raw)
		if multiline != "" {
			if strings.Contains(line, multiline) {
				multiline = ""
			}
			continue
		}
		switch {
		case line == "" || line[0] == '#':
		case strings.HasPrefix(line, "[["):
			name := bare(strings.Trim(before(line, "]]"), "["))
			table = fmt.Sprintf("%s.%d", name, arrays[name])
			arrays[name]++
			if lines[name] == 0 {
				lines[name] = i + 1
			}
			lines[table] = i + 1
		case line[0] == '[':
			table = bare(strings.Trim(before(line, "]"), "["))
			for path := table; path != ""; path = parent(path) {
				if lines[path] == 0 {
					lines[path] = i + 1
				}
			}
		default:
			key, value, ok := strings.Cut(line, "=")
			if !ok {
				continue
			}
			path := join(table, bare(key))
			if lines[path] == 0 {
				lines[path] = i + 1
			}
			for _, q := range []string{`"""`, `'''`} {
				if strings.Count(value, q) == 1 {
					multiline = q
				}
			}
		}
	}
	return lines
}

// bare takes blanks and quotes off the parts of a key.
func bare(key string) string {
	parts := strings.Split(key, ".")
	for i, p := range parts {
		parts[i] = strings.Trim(strings.TrimSpace(p), `"'`)
	}
	return strings.Join(parts, ".")
}

// parent is the path of the table that holds a key, "" for the top one.
func parent(path string) string { return path[:max(0, strings.LastIndex(path, "."))] }

func before(s, sep string) string {
	head, _, _ := strings.Cut(s, sep)
	return head
}
