package whereabouts

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"loamline.example/geo"
)

// Box is where a job lies, in degrees of WGS 84.
type Box struct {
	West  float64 `json:"west"`
	South float64 `json:"south"`
	East  float64 `json:"east"`
	North float64 `json:"north"`
}

// Meets reports whether two boxes have a place in common.
func (b Box) Meets(o Box) bool {
	return b.West <= o.East && o.West <= b.East && b.South <= o.North && o.South <= b.North
}

// nearDeg widens a job's box when a single place is asked for: about 100 m.
const nearDeg = 0.001

// BoxAt reads "lat, lon" in degrees, nil where it is none.
func BoxAt(text string) *Box {
	lat, lon, ok := strings.Cut(text, ",")
	la, err1 := strconv.ParseFloat(strings.TrimSpace(lat), 64)
	lo, err2 := strconv.ParseFloat(strings.TrimSpace(lon), 64)
	if !ok || err1 != nil || err2 != nil || !(la >= -90 && la <= 90 && lo >= -180 && lo <= 180) {
		return nil
	}
	return &Box{West: lo - nearDeg, South: la - nearDeg, East: lo + nearDeg, North: la + nearDeg}
}

// ParseBox reads "west,south,east,north" in degrees.
func ParseBox(text string) (*Box, error) {
	parts := strings.Split(text, ",")
	var v [4]float64
	bad := len(parts) != 4
	for i := 0; i < 4 && !bad; i++ {
		var err error
		v[i], err = strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		bad = err != nil || v[i]-v[i] != 0
	}
	if bad || !(v[0] <= v[2] && v[1] <= v[3]) {
		return nil, fmt.Errorf("%q is not a box: write west,south,east,north in degrees", text)
	}
	return &Box{v[0], v[1], v[2], v[3]}, nil
}

// BoxAbout is the box about positions, less those that lie farther from most of
// them than a day's work goes: one row with a slip in it must not stretch it
// over half the world.
func BoxAbout(at []geo.LonLat) *Box {
	if len(at) == 0 {
		return nil
	}
	xs, ys := make([]float64, len(at)), make([]float64, len(at))
	for i, p := range at {
		xs[i], ys[i] = p.LonDeg, p.LatDeg
	}
	slices.Sort(xs)
	slices.Sort(ys)
	middle := &Place{X: xs[len(xs)/2], Y: ys[len(ys)/2]}
	var b *Box
	for _, p := range at {
		if !middle.Near(&Place{X: p.LonDeg, Y: p.LatDeg}) {
			continue
		}
		if b == nil {
			b = &Box{p.LonDeg, p.LatDeg, p.LonDeg, p.LatDeg}
		}
		b.West, b.East = min(b.West, p.LonDeg), max(b.East, p.LonDeg)
		b.South, b.North = min(b.South, p.LatDeg), max(b.North, p.LatDeg)
	}
	return b
}

// minSpreadDeg keeps the view of one short trace from being a point: about 50 m.
const minSpreadDeg = 0.0005

// Shaped is a box widened to a shape on the ground, with a margin.
func (b Box) Shaped(widthByHeight float64) Box {
	x, y := (b.West+b.East)/2, (b.South+b.North)/2
	shrink := max(0.05, math.Cos(y*math.Pi/180))
	high := max(b.North-b.South, (b.East-b.West)*shrink/widthByHeight, minSpreadDeg) * 1.15
	wide := high * widthByHeight / shrink
	return Box{x - wide/2, y - high/2, x + wide/2, y + high/2}
}
