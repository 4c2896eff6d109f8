package trace

import (
	"math"
	"strings"
	"testing"
)

// Without a rule of its own a job takes 18 in from the outer edge: CGA Best
// Practices 5-19 (18 in and the facility's width, measured horizontally from its
// outside edge; a larger zone by state law prevails). 18 in is 0.4572 m.
func TestDefaultToleranceRule(t *testing.T) {
	r := DefaultJob().Tolerance
	if math.Abs(r.HalfWidthM-0.4572) > 1e-9 || r.MeasuredFrom != "edge" || r.Rule != "" {
		t.Errorf("%+v", r)
	}
}

// What every map must say, by the sources of each: notice to the one-call centre
// and 811 (49 CFR 196.103), positions approximate (CGA Best Practices 5-19,
// HSG47), what to do where the line is not found (common practice, no source), no
// mechanised digging in the zone (29 CFR 1926.651(b)(3), C.R.S.
// 9-1.5-103), expose to verify, depth an estimate (Ohio R.C. 3781.29(B)), expiry
// (CCGA Best Practices 3-21), a release reported at once (49 CFR 196.109), any
// damage reported (49 CFR 196.107), cables live until proved dead (HSG47), and
// local law and licensed practice first.
func TestCautionsSayWhatTheyMust(t *testing.T) {
	all := strings.Join(Cautions(), "\n")
	for _, must := range []string{
		"Call before you dig", "811 in the US", "not a locate", "does not replace notice to the one-call centre (811", "owners' marks", "Local law takes precedence",
		"Positions are approximate", "outside them", "not found where it is drawn, stop and have it located again", "dig by hand", "until the line is seen",
		"Expose to verify", "never proves that nothing else is there",
		"Depths are estimates", "Never set a digging depth", "expire",
		"may follow another line", "live and not located",
		"upwind", "emergency number", "Do not plug or backfill",
		"treat every cable as live until its owner proves it dead", "Report any damage",
		"people the owner has authorised", "Not a survey", "licensed professional's judgement", "no statement of a quality level",
	} {
		if !strings.Contains(all, must) {
			t.Errorf("no caution says %q", must)
		}
	}
	if n := len(Cautions()); n != 12 {
		t.Errorf("%d cautions, want 12", n)
	}
	for _, must := range []string{"Not a locate and not a survey", "positions are approximate", "depths are estimates", "Call before you dig", "811",
		"dig by hand in the zones", "expose to verify", "Local law", "one-call centre", "licensed practice", "take precedence"} {
		if !strings.Contains(ShortCaution, must) {
			t.Errorf("the short caution does not say %q", must)
		}
	}
}
