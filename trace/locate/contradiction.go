package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/clean"
)

// adviseContradictions puts what contradictions ask under what is known of each
// line's errors.
func adviseContradictions(found []clean.Contradiction, lines []trace.Line, errs []lineErrors) {
	at := make(map[string]int, len(lines))
	for i, l := range lines {
		at[l.Setup.Name] = i
	}
	for _, c := range found {
		for _, a := range c.Advice {
			if i, ok := at[a.Line]; ok {
				errs[i].advice = append(errs[i].advice, a)
				errs[i].depthsDoubted = errs[i].depthsDoubted || c.Depths
				if c.DepthFactor > 0 {
					errs[i].depthFactor = c.DepthFactor
				}
			}
		}
	}
}
