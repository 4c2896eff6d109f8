package words

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// ZoneStretch is a stretch of a line with how far its caution zone reaches from the
// mark at most, on each side of it in the direction of travel.
type ZoneStretch struct {
	FromM, ToM    float64
	LeftM, RightM float64
	Doubt         *Doubt // the gravest on it, or nil
	NotTraced     bool   // nothing was read between its ends: no width is known
}

// Width words one of its widths.
func (z ZoneStretch) Width(u geo.Units, m float64) string {
	if z.NotTraced {
		return "not traced"
	}
	return ShortUp(u, m)
}

// Two widths are alike within alikeM, for no tape over rough ground tells more, or
// within alikePart of the wider, which is paced and not taped (common practice, no
// source). Stretches that are alike have the wider of both.
const (
	alikeM    = 0.05
	alikePart = 0.10
)

// ZoneStretches parts a line where its caution zone changes its width: within how
// far nobody digs by machine. What was found widens it as far as trace.ZoneShoulderM
// beyond. What is not traced is a stretch too.
func ZoneStretches(l *trace.Line) []ZoneStretch {
	if l.Centerline == nil || len(l.Reach) == 0 {
		return nil
	}
	var out []ZoneStretch
	for k, p := range l.Centerline.Parts {
		if k > 0 && !p.Joins {
			out = append(out, ZoneStretch{FromM: l.Centerline.Parts[k-1].ToM(), ToM: p.FromM(), NotTraced: true})
		}
		cuts := []float64{p.FromM(), p.ToM()}
		for _, f := range l.Findings {
			d := doubts.Of(f)
			from, to := f.Span()
			if d.rank == 0 || !trace.Known(from) || f.Role() == (finding.Gap{}).Role() || f.Role() == (finding.FieldCheck{}).Role() {
				continue
			}
			for _, s := range []float64{from - trace.ZoneShoulderM, to + trace.ZoneShoulderM} {
				if s > p.FromM() && s < p.ToM() {
					cuts = append(cuts, s)
				}
			}
		}
		slices.Sort(cuts)
		first := len(out)
		for i := 1; i < len(cuts); i++ {
			if cuts[i]-cuts[i-1] < 1e-6 {
				continue
			}
			z := ZoneStretch{FromM: cuts[i-1], ToM: cuts[i], Doubt: DoubtAt(l, (cuts[i-1]+cuts[i])/2)}
			for k, r := range l.Reach {
				touches := r.StationM >= z.FromM-1e-6 && r.StationM <= z.ToM+1e-6
				// A stretch between two places has the wider of both.
				touches = touches || k+1 < len(l.Reach) && r.StationM < z.FromM && l.Reach[k+1].StationM > z.ToM
				touches = touches || k > 0 && r.StationM > z.ToM && l.Reach[k-1].StationM < z.FromM
				if touches {
					z.LeftM, z.RightM = math.Max(z.LeftM, r.LeftM), math.Max(z.RightM, r.RightM)
				}
			}
			if n := len(out); n > first && sameZone(out[n-1], z) {
				last := &out[n-1]
				last.ToM, last.LeftM, last.RightM = z.ToM, math.Max(last.LeftM, z.LeftM), math.Max(last.RightM, z.RightM)
				if rankOf(z.Doubt) > rankOf(last.Doubt) {
					last.Doubt = z.Doubt
				}
				continue
			}
			out = append(out, z)
		}
	}
	return out
}

func sameZone(a, b ZoneStretch) bool {
	alike := func(v, w float64) bool { return math.Abs(v-w) < math.Max(alikeM, alikePart*math.Max(v, w)) }
	return alike(a.LeftM, b.LeftM) && alike(a.RightM, b.RightM)
}

func rankOf(d *Doubt) int {
	if d == nil {
		return 0
	}
	return d.rank
}
