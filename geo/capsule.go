package geo

import "github.com/paulmach/orb"

// capsules builds the zone as the union of one tapered capsule a segment, in
// chunks and then whole. It is slower than the outline and shares nothing with
// its joins, so that it stands where the outline fails.
func (b band) capsules() (orb.MultiPolygon, error) {
	const chunk = 256
	w := b.inflated(2e-4)
	var chunks, parts []orb.MultiPolygon
	for i := 0; i == 0 || i+1 < len(w.path); i++ {
		j := min(i+2, len(w.path))
		// Full discs at both ends: larger than asked, never smaller.
		one, err := dissolve(band{w.path[i:j], w.left[i:j], w.right[i:j]}.outline())
		if err != nil {
			return nil, err
		}
		if parts = append(parts, one); len(parts) == chunk {
			u, err := Union(parts...)
			if err != nil {
				return nil, err
			}
			chunks, parts = append(chunks, u), nil
		}
	}
	return Union(append(chunks, parts...)...)
}
