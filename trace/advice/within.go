package advice

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// GapsWithin tells which places beside a line, where readings were taken and nothing is
// drawn, lie within a stretch of it that is not traced: by the number of that stretch
// among the findings. It asks for them what they ask for, so one item tells both.
func GapsWithin(findings []trace.Finding) map[int][]int {
	var within map[int][]int
	for k, f := range findings {
		in, ok := f.(finding.Gap)
		if !ok || in.Along == nil || trace.Known(in.FromM) || in.PastM != 0 {
			continue
		}
		for j, f := range findings {
			if g, ok := f.(finding.Gap); ok && g.FromM <= in.Along[0] && in.Along[1] <= g.ToM {
				if within == nil {
					within = map[int][]int{}
				}
				within[j] = append(within[j], k)
				break
			}
		}
	}
	return within
}
