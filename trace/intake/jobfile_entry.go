package intake

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"loamline.example/trace"
	"loamline.example/trace/spelling"
)

// entry names a key of a table in a list as people do, by the entry's own name or as they
// count: "[[line]] W-1: hookup" or "the 1st [[line]]: hookup" for "line.0.hookup". It is
// empty for every other key.
func (f *jobFile) entry(key string) string {
	parts := strings.SplitN(key, ".", 3)
	if len(parts) < 2 {
		return ""
	}
	docs, ok := tables(f.doc[parts[0]])
	i, err := strconv.Atoi(parts[1])
	if !ok || err != nil || i < 0 || i >= len(docs) {
		return ""
	}
	entry := fmt.Sprintf("the %s [[%s]]", ordinal(i+1), parts[0])
	if name := entryName(docs[i]); name != "" {
		entry = fmt.Sprintf("[[%s]] %s", parts[0], name)
	}
	if len(parts) == 3 {
		entry += ": " + parts[2]
	}
	return entry
}

// entryName is what a table of a list is called, by its name or its file; empty where it
// has none that can stand in a message. An address may hold a password.
func entryName(doc map[string]any) string {
	for _, key := range [...]string{"name", "file"} {
		name, _ := doc[key].(string)
		if name = strings.TrimSpace(name); name != "" && !strings.Contains(name, "://") && strings.IndexFunc(name, notShown) < 0 {
			return trace.Shorten(name)
		}
	}
	return ""
}

func notShown(r rune) bool { return !unicode.IsPrint(r) }

// ordinal is a number as one counts: 1st, 2nd, 11th.
func ordinal(n int) string {
	switch {
	case n%100 >= 11 && n%100 <= 13:
	case n%10 == 1:
		return fmt.Sprintf("%dst", n)
	case n%10 == 2:
		return fmt.Sprintf("%dnd", n)
	case n%10 == 3:
		return fmt.Sprintf("%drd", n)
	}
	return fmt.Sprintf("%dth", n)
}

// nearestIs ends a list of the right values with the one that a wrong value is nearest to.
func nearestIs(v any, right []string) string {
	s, _ := v.(string)
	if near := spelling.Nearest(strings.TrimSpace(s), right); s != "" && near != "" {
		return fmt.Sprintf("; the nearest is %q", near)
	}
	return ""
}
