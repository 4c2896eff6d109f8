package intake

import (
	"fmt"
	"strings"
	"testing"
)

// Decimal commas between commas move every value behind them; a row whose last columns are
// empty hides it.
func TestDecimalCommasBetweenCommas(t *testing.T) {
	table := func(rows ...string) string { return "lat,lon,depth_m,note,point\n" + strings.Join(rows, "\n") + "\n" }
	var split, trailing []string
	for n := range 6 {
		split = append(split, fmt.Sprintf("44.1%d,-71.5,1,8%d,,", n, n))
		trailing = append(trailing, fmt.Sprintf("44.1%d,-71.5,1.8%d,,,", n, n))
	}
	_, err := ReadTable(strings.NewReader(table(split...)), "walk.csv", 0, TableOptions{})
	for _, want := range []string{"walk.csv:2:13", "depth_m", "decimal comma", "semicolons"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not say %q", err, want)
		}
	}
	got := readText(t, table(trailing...), TableOptions{})
	if len(got.Readings) != 6 || got.Unreadable > 0 || len(got.Problems) > 0 {
		t.Errorf("a comma at the end of each row: %+v", got.Problems)
	}
	// In one row this number, in another that one.
	text := "lat,lon,depth_m,current_ma,note\n44.1,-71.5,1,85,60,\n44.2,-71.5,1.9,60,5,\n44.3,-71.5,2,,12\n44.4,-71.5,1,88,61,\n"
	if _, err := ReadTable(strings.NewReader(text), "walk.csv", 0, TableOptions{}); err == nil || !strings.Contains(err.Error(), "(3 of 4 rows)") {
		t.Errorf("in different columns: %v", err)
	}
	got = readText(t, table(append([]string{"44.1,-71.5,1.7,,"}, split[0])...), TableOptions{})
	if len(got.Readings) != 1 || got.Unreadable != 1 || len(got.Problems) != 1 || got.Problems[0].Row != 3 {
		t.Errorf("one such row: %d readings, %+v", len(got.Readings), got.Problems)
	}
	// One that is unreadable by itself leaves out no other row.
	got = readText(t, table("44.1,x,1,85,,", "44.2,-71.5,1.7,,"), TableOptions{})
	if len(got.Readings) != 1 || got.Readings[0].Row != 3 || got.Unreadable != 1 {
		t.Errorf("one such row that has no position: %d readings, %+v", len(got.Readings), got.Problems)
	}
	// Whole depths and a number behind them are none where no field is too many.
	got = readText(t, "lat,lon,depth_in,current_ma\n44.1,-71.5,36,85\n44.2,-71.5,37,84\n44.3,-71.5,37,84\n", TableOptions{})
	if len(got.Readings) != 3 || len(got.Problems) > 0 {
		t.Errorf("whole numbers: %+v", got.Problems)
	}
}
