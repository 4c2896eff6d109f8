package intake

import (
	"strings"
	"testing"

	"loamline.example/trace/remark"
)

// A line or a point whose name begins with # is not lost as a comment is.
func TestHashedRows(t *testing.T) {
	head := "line,lat,lon,depth_m\n"
	for _, c := range []struct {
		name, text                string
		rows, readings, commented int
	}{
		{"a line's name", head + "W-1,44.1,-71.5,1\n#2 feeder,44.1,-71.5,1\n#2 feeder,44.2,-71.5,\n", 3, 1, 2},
		{"quoted", head + "\"#2 feeder\",44.1,-71.5,1\n", 1, 1, 0},
		{"a space before it", head + " #2 feeder,44.1,-71.5,1\n", 1, 1, 0},
		{"empty fields too many", head + "W-1,44.1,-71.5,1\n#2,44.1,-71.5,1,,\n", 2, 1, 1},
		{"at a figure", "lat,lon\n44.1,-71.5\n#44.1,-71.5\n", 2, 1, 1},
		{"decimal commas", "line;lat;lon\nA;44,1;-71,5\n#B;44,1;-71,5\n", 2, 1, 1},
		{"by time", "point,time\n1,2026-05-12T09:30:00Z\n#2,2026-05-12T09:30:01Z\n", 2, 1, 1},
		{"comments", "# walk\n" + head + "W-1,44.1,-71.5,1\n# lunch\n# a, b, c, d\n#\n#,,,\n# the \"old, one, 1, 2\n#W-1,44.1,-71.5\n", 1, 1, 0},
		{"a quoted comment above the header", "\"# exported, on Monday\",,,\n" + head + "W-1,44.1,-71.5,1\n", 1, 1, 0},
		{"a column #", "\"#\",lat,lon\n1,44.1,-71.5\n", 1, 1, 0},
	} {
		table := readText(t, c.text, TableOptions{WithoutPosition: c.name == "by time"})
		if table.Rows != c.rows || len(table.Readings) != c.readings || table.Unreadable != c.commented || c.rows != c.readings+c.commented {
			t.Errorf("%s: %d rows, %d readings, %d unreadable: %v", c.name, table.Rows, len(table.Readings), table.Unreadable, table.Problems)
		}
		var told remark.RowsHashed
		for _, p := range table.Problems {
			switch r := p.Check.(type) {
			case remark.RowsHashed:
				told = r
			case remark.RowsUnread:
				t.Errorf("%s: told twice", c.name)
			}
		}
		if told.N != c.commented || told.N > 0 && !strings.HasPrefix(strings.Split(c.text, "\n")[told.FirstLine-1], "#") {
			t.Errorf("%s: %+v", c.name, told)
		}
	}
}
