package bleed

import "loamline.example/trace"

// touchingM is how close two stretches lie that follow one another: their ends are set
// halfway to the next reading, and written in millimetres. Judgement.
const touchingM = 0.01

// noNarrowerThanBeside widens the caution of a suspected stretch to either side by what the
// same neighbour's cautions beside it add, where nothing tells to which side the line lies:
// as little is known there of the shift as where nothing was seen of it.
func noNarrowerThanBeside(all []Stretch) {
	for i := range all {
		s := &all[i]
		if s.Grade == trace.GradeWatch || s.Side != "" || s.Jump || len(s.Own) > 0 {
			continue
		}
		widen := 0.0
		for _, o := range all {
			if o.Grade == trace.GradeWatch && !o.Jump && o.Neighbor == s.Neighbor && o.FromM <= s.ToM+touchingM && o.ToM >= s.FromM-touchingM {
				widen = max(widen, o.WidenLeftM, o.WidenRightM)
			}
		}
		if widen > 0 {
			s.WidenLeftM, s.WidenRightM = max(s.WidenLeftM, widen), max(s.WidenRightM, widen)
		}
	}
}
