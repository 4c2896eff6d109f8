package geo

// trimWindow is how many edges back a side is searched for a loop.
const trimWindow = 48

// trimmed cuts from one side of an outline the loops that it makes at the inner
// side of bends, where the places of the loop belong to the zone anyway (a tiny
// hole among them may get filled). What
// it leaves may be a ring that needs no overlay at all. It looks at near loops
// only and is no proof: its result counts once the ring is simple and the zone
// was checked to hold the band.
func trimmed(side []XY) []XY {
	out := make([]XY, 0, len(side))
	for _, p := range side {
		out = append(out, p)
		for k := len(out) - 4; k >= 0 && k >= len(out)-trimWindow; k-- {
			a, b := out[len(out)-2], out[len(out)-1]
			if !boxesMeet(out[k], out[k+1], a, b) {
				continue
			}
			s, t, ok := meet(out[k], out[k+1], a, b)
			if !ok || s <= 0 || t >= 1 {
				continue
			}
			x := out[k].Lerp(out[k+1], s)
			// A loop that runs clockwise encloses what is not the zone.
			if loop := append(append([]XY{x}, out[k+1:len(out)-1]...), x); signedArea(loop) > 0 {
				out = append(out[:k+1], x, b)
			}
		}
	}
	return out
}

func boxesMeet(a, b, c, d XY) bool {
	return max(a.X, b.X) >= min(c.X, d.X) && max(c.X, d.X) >= min(a.X, b.X) &&
		max(a.Y, b.Y) >= min(c.Y, d.Y) && max(c.Y, d.Y) >= min(a.Y, b.Y)
}
