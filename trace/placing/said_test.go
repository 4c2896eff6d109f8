package placing

import (
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// said is a remark in words, in metres.
func said(r trace.Remark) string { return words.Remark(geo.Metric, r) }
