package locate

import (
	"loamline/export/words"
	"loamline/geo"
	"loamline/trace"
)

// said is a remark in words, in metres.
func said(r trace.Remark) string { return words.Remark(geo.Metric, r) }
