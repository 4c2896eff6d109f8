package words

import (
	"fmt"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// A published figure that a sentence names is the one that is reckoned with: that of the
// open service (GPS SPS Performance Standard, 5th edition, 2020; from memory).
func TestSentenceNamesThePublishedFigure(t *testing.T) {
	got := Remark(geo.Metric, remark.ErrorUnbounded{Hidden95M: 6.41})
	if want := fmt.Sprintf("95 %% of its positions lie within %.0f m by the published standard", receiver.Radius95M(receiver.UnboundedM())); !strings.Contains(got, want) {
		t.Errorf("%q does not say %q", got, want)
	}
}

// A name of more than one word is seen to begin and end.
func TestNamesOfSeveralWordsAreInQuotes(t *testing.T) {
	item := remark.BleedItem{Line: "W-1", Grade: "watch", From: "record W-1 lane", Also: []string{"G-1", "gas main"}}
	got := Remark(geo.Metric, item)
	for _, want := range []string{"perhaps from 'record W-1 lane'", "The signal of G-1 may", "The signal of 'gas main' may"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
}

// Only what a depth may be off by is told: no side of nought per cent.
func TestDepthsBesideAJumpNameTheSides(t *testing.T) {
	for want, r := range map[string]remark.HeardBesideJump{
		"up to 19 % too deep, and":                     {LnMost: 0.17},
		"up to 19 % too deep or 10 % too shallow, and": {LnMost: 0.17, LnLeast: -0.105},
		"up to 10 % too shallow, and":                  {LnLeast: -0.105},
	} {
		if got := Remark(geo.Metric, r); !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
}
