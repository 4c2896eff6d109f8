package geo

import "github.com/paulmach/orb"

// patched adds a tapered capsule around each of the named segments to a zone.
func (b band) patched(zone orb.MultiPolygon, segments []int) (orb.MultiPolygon, error) {
	const chunk = 256
	w := b.inflated(2e-4)
	chunks := []orb.MultiPolygon{zone}
	var parts []orb.MultiPolygon
	for k, i := range segments {
		j := min(i+2, len(w.path))
		one, err := dissolve(band{w.path[i:j], w.left[i:j], w.right[i:j]}.outline(asDrawn))
		if err != nil {
			return nil, err
		}
		parts = append(parts, one)
		if len(parts) == chunk || k == len(segments)-1 {
			u, err := Union(parts...)
			if err != nil {
				return nil, err
			}
			chunks, parts = append(chunks, u), nil
		}
	}
	return Union(chunks...)
}

// capsules builds the whole zone as a union of capsules: slower than the outline,
// and without its joins.
func (b band) capsules() (orb.MultiPolygon, error) {
	all := make([]int, max(1, len(b.path)-1))
	for i := range all {
		all[i] = i
	}
	return b.patched(nil, all)
}
