package words

import (
	"fmt"
	"strings"

	"loamline.example/export/words/nofigure"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
)

// Remark says a remark in the units of people, its distances as a tape shows them; nothing
// for none. It panics where a kind has no words, which a test shows.
func Remark(u geo.Units, r trace.Remark) string {
	switch r := r.(type) {
	case nil:
		return ""
	case trace.Verbatim:
		return string(r)
	case trace.Several:
		return strings.Join(Remarks(u, r), "; ")
	}
	for _, say := range [...]func(geo.Units, trace.Remark) (string, bool){positionReason, depthReason, lineRemark, accuracyRemark,
		bleedRemark, jumpRemark, closeRemark, checkRemark, guardRemark, guardDepthRemark, unusedRemark, adviceRemark, itemRemark, inputAdvice, inputRemark, problemRemark} {
		if s, ok := say(u, r); ok {
			return nofigure.Say(s, r)
		}
	}
	panic(fmt.Sprintf("words: no words for a remark %T", r))
}

// Remarks says remarks, one sentence or more for each.
func Remarks(u geo.Units, rs []trace.Remark) []string {
	if rs == nil {
		return nil
	}
	out := make([]string, len(rs))
	for i, r := range rs {
		out[i] = Remark(u, r)
	}
	return out
}

// Item words one thing to check before digging.
func Item(u geo.Units, a trace.Advice) string { return Remark(u, a.Remark) }

// Advice says what is to be checked before digging, the most important first, and at the end
// which checks in the field are to be made again.
func Advice(s *trace.Sheet) []string {
	out := make([]string, 0, len(s.Advice))
	for _, a := range advice.MostImportantFirst(s) {
		out = append(out, Item(s.Job.Units, a))
	}
	for _, f := range advice.ToRepeat(s) {
		out = append(out, LookAt(s.Job.Units, f))
	}
	return out
}
