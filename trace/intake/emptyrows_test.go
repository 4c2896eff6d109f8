package intake

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

var emptyRun = regexp.MustCompile(`^(\d+) (?:more )?rows from here on are empty`)

// emptyTold is how many empty rows a problem stands for that tells of several.
func emptyTold(p *trace.Problem) int {
	n := 0
	if m := emptyRun.FindStringSubmatch(p.Cause); m != nil {
		n, _ = strconv.Atoi(m[1])
	}
	return n
}

// Rows without a value are counted and told by their runs, however many they are, and
// none becomes a reading, or a line named after the file.
func TestEmptyRowsMakeNoLine(t *testing.T) {
	text := "lat,lon,line,depth_m\n1,2,W-1,1\n" + strings.Repeat(",,,\n", 30000) + "1,2,W-1,1\n,,,\n1,2,W-1,1\n" // 30003 is a reading, 30004 is empty
	table := readText(t, text, TableOptions{})
	if table.Rows != 30004 || table.Unreadable != 30001 || len(table.Readings) != 3 {
		t.Fatalf("%d rows, %d unreadable, %d readings", table.Rows, table.Unreadable, len(table.Readings))
	}
	for _, r := range table.Readings {
		if r.Line != "W-1" {
			t.Errorf("a reading of %q", r.Line)
		}
	}
	if len(table.Problems) != 2 || table.Problems[0].Row != 3 || emptyTold(&table.Problems[0]) != 30000 || table.Problems[1].Row != 30004 {
		t.Fatalf("problems %v", table.Problems)
	}
	for i := range table.Problems {
		if p := &table.Problems[i]; p.Warn || p.Hint == "" || p.Check != nil {
			t.Errorf("%+v", p)
		}
	}
	var many strings.Builder
	many.WriteString("lat,lon,note\n")
	for range 500 {
		many.WriteString("1,2,a\n,,\n")
	}
	many.WriteString("1,2,a\n")
	table = readText(t, many.String(), TableOptions{})
	told := 0
	for i := range table.Problems {
		told += max(1, emptyTold(&table.Problems[i]))
	}
	if len(table.Problems) != maxEmptyTold+1 || told != 500 {
		t.Errorf("%d problems tell of %d rows", len(table.Problems), told)
	}
}

// A row that holds something and cannot be read was a reading: the map says what it
// lacks. The empty ones beside it were none, and are not counted with it.
func TestUnreadRowsAreToldBeforeDigging(t *testing.T) {
	table := readText(t, "lat,lon,note\n1,2,a\n,,\nx,2,b\n1,2\n1,2,c\n", TableOptions{})
	want := remark.RowsUnread{Table: "walk.csv", N: 2, Of: 4, FirstLine: 4}
	var got []trace.Remark
	for i := range table.Problems {
		if c := table.Problems[i].Check; c != nil {
			got = append(got, c)
		}
	}
	if len(got) != 1 || got[0] != want {
		t.Errorf("%+v", got)
	}
}

// Empty rows behind the last one that holds something are no rows.
func TestEmptyRowsAtTheEnd(t *testing.T) {
	table := readText(t, "lat,lon,note\n1,2,a\n,,\n1,2,b\n,,\n\n,,\n,,\n", TableOptions{})
	if table.Rows != 3 || table.Unreadable != 1 || len(table.Readings) != 2 || len(table.Problems) != 1 || table.Problems[0].Row != 3 {
		t.Errorf("%d rows, %d unreadable: %v", table.Rows, table.Unreadable, table.Problems)
	}
}
