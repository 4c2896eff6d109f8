package page

import (
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// What is to be checked begins with the name of a line or a file as that is written.
func TestNamesKeepTheirFirstLetter(t *testing.T) {
	got := listAdvice(sample.Sheet(), trace.Advice{Kind: trace.AdviseInput, Remark: remark.RowsUnread{Table: "walk-2.csv", N: 1, Of: 9, FirstLine: 4}}).Words
	for _, text := range []string{got.Metric, got.US} {
		if !strings.HasPrefix(text, "walk-2.csv") || !strings.HasSuffix(text, ".") {
			t.Errorf("%q", text)
		}
	}
}
