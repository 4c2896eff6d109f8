package plan

import (
	"math"

	"loamline.example/geo"
)

// Strip is the stretch of a line that one sheet shows.
type Strip struct {
	FromM, ToM float64 // stations along the line
	Center     geo.XY
	AngleRad   float64 // of the sheet's x axis, within a quarter turn of east: north is never down
}

// Room is what a sheet has for a strip.
type Room struct {
	WidthMM, HeightMM float64
	PadM              float64 // ground to show on both sides of the line, across the sheet
	ApartM            float64 // how close another line runs alongside; 0 where none does
	StepM             float64 // match lines fall on multiples of this; 0 is anywhere
}

// Strips cuts a line into the fewest stretches that fit the room at a scale.
// All sheets keep north up where turning them would save none.
func Strips(line geo.Polyline, s Scale, room Room) []Strip {
	c := cutter{line: line, wM: room.WidthMM / s.MMPerM(), hM: room.HeightMM / s.MMPerM(), room: room}
	upright := c.cut([]float64{0})
	if len(upright) == 1 {
		return upright
	}
	turned := c.cut(turns)
	if len(upright) <= len(turned) {
		return upright
	}
	return turned
}

// turns are the directions tried for a sheet, beside that of the line itself.
var turns = func() []float64 {
	out := []float64{0}
	for d := -85.0; d <= 90; d += 5 {
		out = append(out, d*math.Pi/180)
	}
	return out
}()

type cutter struct {
	line   geo.Polyline
	wM, hM float64
	room   Room
}

// cut takes even stretches where they fit, else each as long as it can be.
func (c cutter) cut(angles []float64) []Strip {
	greedy := c.walk(angles, math.Inf(1))
	if n := len(greedy); n > 1 {
		if even := c.walk(angles, c.line.Length()/float64(n)); len(even) == n {
			return even
		}
	}
	return greedy
}

func (c cutter) walk(angles []float64, longestM float64) []Strip {
	var out []Strip
	total := c.line.Length()
	for from := 0.0; ; {
		strip := c.longest(from, longestM, angles)
		out = append(out, strip)
		if strip.ToM >= total-1e-6 {
			return out
		}
		from = strip.ToM
	}
}

// longest returns the longest stretch from a station that fits one sheet. It
// moves on by half a metre at least, so that it always ends.
func (c cutter) longest(fromM, longestM float64, angles []float64) Strip {
	total := c.line.Length()
	hi := math.Min(total, fromM+math.Min(c.wM, c.stepUp(longestM)))
	if s, ok := c.fit(fromM, hi, angles); ok {
		return c.rounded(s, angles)
	}
	lo := math.Min(total, fromM+0.5)
	best, ok := c.fit(fromM, lo, angles)
	if !ok {
		best = c.strip(fromM, lo, angles[0])
	}
	for range 24 {
		mid := (lo + hi) / 2
		if s, ok := c.fit(fromM, mid, angles); ok {
			lo, best = mid, s
		} else {
			hi = mid
		}
	}
	return c.rounded(best, angles)
}

func (c cutter) stepUp(m float64) float64 {
	if c.room.StepM <= 0 || math.IsInf(m, 1) {
		return m
	}
	return math.Ceil(m/c.room.StepM-1e-9) * c.room.StepM
}

// rounded moves the end of a strip back to a round station, where there is one.
func (c cutter) rounded(s Strip, angles []float64) Strip {
	if c.room.StepM <= 0 || s.ToM >= c.line.Length()-1e-6 {
		return s
	}
	to := math.Floor(s.ToM/c.room.StepM+1e-9) * c.room.StepM
	if to <= s.FromM+0.5 {
		return s
	}
	if r, ok := c.fit(s.FromM, to, angles); ok {
		return r
	}
	return s
}

// fit finds the direction in which a stretch fits: north up if it can be, else
// along the stretch, else the one that leaves most room.
func (c cutter) fit(fromM, toM float64, angles []float64) (Strip, bool) {
	path := thin(c.line.Slice(fromM, toM), 400)
	if c.fits(path, 0) {
		return c.strip(fromM, toM, 0), true
	}
	if len(angles) == 1 {
		return Strip{}, false
	}
	d := path[len(path)-1].Sub(path[0])
	if along := upright(math.Atan2(d.Y, d.X)); d.Norm() > 0 && c.fits(path, along) {
		return c.strip(fromM, toM, along), true
	}
	bestAngle, bestH := 0.0, math.Inf(1)
	for _, a := range angles {
		if _, h, _ := Bounds(path, a); h < bestH && c.fits(path, a) {
			bestAngle, bestH = a, h
		}
	}
	return c.strip(fromM, toM, bestAngle), !math.IsInf(bestH, 1)
}

func (c cutter) fits(path []geo.XY, angle float64) bool {
	w, h, _ := Bounds(path, angle)
	return w <= c.wM+1e-9 && h+2*c.room.PadM <= c.hM+1e-9
}

func (c cutter) strip(fromM, toM, angle float64) Strip {
	_, _, center := Bounds(c.line.Slice(fromM, toM), angle)
	return Strip{fromM, toM, center, angle}
}

// upright brings a direction within a quarter turn of east, so that north stays
// in the upper half of the sheet.
func upright(a float64) float64 {
	for a > math.Pi/2 {
		a -= math.Pi
	}
	for a <= -math.Pi/2 {
		a += math.Pi
	}
	return a
}

// thin returns at most about n points of a path, its ends kept.
func thin(path []geo.XY, n int) []geo.XY {
	step := (len(path) + n - 1) / n
	if step <= 1 {
		return path
	}
	var out []geo.XY
	for i := 0; i < len(path)-1; i += step {
		out = append(out, path[i])
	}
	return append(out, path[len(path)-1])
}
