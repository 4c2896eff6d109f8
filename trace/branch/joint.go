// Package branch tells where a line meets itself: where a part of it joins another, and
// which branches were walked out and back within one.
package branch

import (
	"loamline.example/geo"
	"loamline.example/trace"
)

// Joint is where a part of a centerline meets another: one end of it, at the station
// EndM, lies on the other at OnM.
type Joint struct{ EndM, OnM float64 }

// jointM is how far from another part the end of one may lie that meets it: vertices
// are rounded, and moved by what the line's own legs do to a peak. Judgement.
const jointM = 0.5

// Joints returns where parts meet, for each that joins what is drawn elsewhere and
// where that place can be told.
func Joints(c *trace.Centerline) []Joint {
	var out []Joint
	for k := 1; k < len(c.Parts); k++ {
		if !c.Parts[k].Joins {
			continue
		}
		before, after := c.Parts[k-1], c.Parts[k]
		best, off := Joint{}, jointM
		meet := func(endM float64, end geo.XY, on trace.Part) {
			if f := geo.NewPolyline(on.Path()).Nearest(end); f.At.Dist(end) < off {
				best, off = Joint{EndM: endM, OnM: on.FromM() + f.StationM}, f.At.Dist(end)
			}
		}
		for _, p := range c.Parts[:k] {
			meet(after.FromM(), after.Vertices[0].Pos, p)
		}
		meet(before.ToM(), before.Vertices[len(before.Vertices)-1].Pos, after)
		if off < jointM {
			out = append(out, best)
		}
	}
	return out
}

// Spur is a branch that was walked out and back within one part: the line leaves at
// FromM, and is back at ToM.
type Spur struct{ FromM, ToM float64 }

// What is called a spur: a line that turns round, by more than a cosine of turnedRound
// over spurStepM, and retraces itself within besideM for at least leastSpurM, with the
// line going on at both ends. Judgement.
const (
	spurStepM   = 1.0
	turnedRound = -0.8
	besideM     = 1.0
	leastSpurM  = 2.0
)

// Spurs returns the branches walked out and back within parts, in order.
func Spurs(c *trace.Centerline) []Spur {
	var out []Spur
	for _, p := range c.Parts {
		line := geo.NewPolyline(p.Path())
		done := leastSpurM
		for i := range line.Points {
			apex := line.Station(i)
			if apex < done || apex > line.Length()-leastSpurM || !turnsRound(line, apex) {
				continue
			}
			reach, goesOn := 0.0, false
			for u := spurStepM; !goesOn && apex-u > done && apex+u < line.Length()-leastSpurM; u += spurStepM {
				if goesOn = line.At(apex-u).Dist(line.At(apex+u)) > besideM; !goesOn {
					reach = u
				}
			}
			if goesOn && reach >= leastSpurM {
				out = append(out, Spur{p.FromM() + apex - reach, p.FromM() + apex + reach})
				done = apex + reach + leastSpurM
			}
		}
	}
	return out
}

func turnsRound(line geo.Polyline, atM float64) bool {
	in, out := line.At(atM).Sub(line.At(atM-spurStepM)), line.At(atM+spurStepM).Sub(line.At(atM))
	return in.Dot(out) < turnedRound*in.Norm()*out.Norm()
}
