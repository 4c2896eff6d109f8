package beneath

import (
	"strconv"

	"loamline.example/trace"
)

// Background tells which layers are drawn as background, and with how much.
func Background(s *trace.Sheet) []string {
	var order []string
	count := map[string]int{}
	for _, b := range s.Background {
		if count[b.Source] == 0 {
			order = append(order, b.Source)
		}
		count[b.Source]++
	}
	var out []string
	for _, source := range order {
		out = append(out, "Background from "+source+" ("+strconv.Itoa(count[source])+" outlines and lines near the job): drawn as given; not a utility line.")
	}
	return out
}
