package intake

import (
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"time"
	"unsafe"

	"loamline.example/trace"
)

// readText reads a table that must be one, and checks its ledger.
func readText(t testing.TB, text string, opt TableOptions) Table {
	t.Helper()
	table, err := ReadTable(strings.NewReader(text), "walk.csv", 0, opt)
	if err != nil {
		t.Fatal(err)
	}
	if table.Rows != len(table.Readings)+table.Unreadable {
		t.Fatalf("%d rows are not %d readings and %d unreadable ones", table.Rows, len(table.Readings), table.Unreadable)
	}
	told := 0
	for i := range table.Problems {
		if p := &table.Problems[i]; !p.Warn {
			told += max(1, emptyTold(p))
		}
	}
	if told != table.Unreadable {
		t.Fatalf("%d rows are unreadable, %d are told", table.Unreadable, told)
	}
	return table
}

// One table in all the ways in which it may be written.
func TestTableDialects(t *testing.T) {
	comma := "line,point,time,lat,lon,depth_m,note\n" +
		"W-1,A1,2026-05-12T09:30:00Z,44.10342,-71.50231,0.85,\"by the oak, north side\"\n" +
		"W-1,A2,2026-05-12T09:30:09.5Z,44.10350,-71.50240,-0.5,\"says \"\"hot\"\"\"\n"
	want := readText(t, comma, TableOptions{}).Readings
	if r := want[0]; r.Line != "W-1" || r.Note != "by the oak, north side" || r.DepthM != 0.85 || r.Row != 2 ||
		!r.Time.Equal(time.Date(2026, 5, 12, 9, 30, 0, 0, time.UTC)) || want[1].Note != `says "hot"` {
		t.Fatalf("%+v", want)
	}
	semicolon := "line;point;time;lat;lon;depth_m;note\n" +
		"W-1;A1;2026-05-12T09:30:00Z;44,10342;-71,50231;0,85;by the oak, north side\n" +
		"W-1;A2;2026-05-12T09:30:09.5Z;44,10350;-71,50240;-0,5;\"says \"\"hot\"\"\"\n"
	quoted := "\"line\",\"point\",\"time\",\"lat\",\"lon\",\"depth_m\",\"note\"\n" +
		"\"W-1\", \"A1\" ,\"2026-05-12T09:30:00Z\",\"44.10342\",\"-71.50231\",\"0.85\",\"by the oak, north side\"\n" +
		"\"W-1\",\"A2\",\"2026-05-12T09:30:09.5Z\",\"44.10350\",\"-71.50240\",\"-0.5\",\"says \"\"hot\"\"\"\n"
	dialects := map[string]string{
		"semicolons, decimal comma": semicolon,
		"semicolons, decimal point": strings.NewReplacer("44,", "44.", "71,", "71.", "0,", "0.").Replace(semicolon),
		"tabs, decimal comma":       strings.ReplaceAll(semicolon, ";", "\t"),
		"all quoted":                quoted,
		"byte-order mark":           "\ufeff" + comma,
		"byte-order mark, quoted":   "\ufeff" + quoted,
		"carriage returns":          strings.ReplaceAll(comma, "\n", "\r\n"),
		"carriage returns alone":    strings.ReplaceAll(comma, "\n", "\r"),
		"no last line end":          strings.TrimSuffix(comma, "\n"),
		"capitals":                  strings.Replace(comma, "line,point,time,lat,lon,depth_m,note", "LINE, Point ,TIME,Lat,LON,Depth_M,NOTE", 1),
		"other times":               strings.ReplaceAll(comma, "T09:30:0", " 09:30:0"),
		"empty fields too many":     strings.ReplaceAll(comma, "\"\n", "\",,\n"),
	}
	for name, text := range dialects {
		t.Run(name, func(t *testing.T) {
			for _, r := range []io.Reader{strings.NewReader(text), iotest.OneByteReader(strings.NewReader(text))} {
				table, err := ReadTable(r, "walk.csv", 0, TableOptions{})
				if err != nil {
					t.Fatal(err)
				}
				if len(table.Problems) > 0 {
					t.Errorf("problems: %v", &table.Problems[0])
				}
				sameReadings(t, table.Readings, want)
			}
		})
	}
}

// sameReadings compares printed readings: unknown numbers are never equal.
func sameReadings(t *testing.T, got, want []trace.Reading) {
	t.Helper()
	if g, w := fmt.Sprintf("%+v", got), fmt.Sprintf("%+v", want); g != w {
		t.Errorf("got\n%s\nwant\n%s", g, w)
	}
}

// Lines are counted as an editor counts them, whatever is skipped and however
// many lines a note has.
func TestRowNumbers(t *testing.T) {
	text := "# exported\n\nlat,lon,note,depth_m\n" + // 3 is the header
		"1,2,one,1\n" + // 4
		"# between\n" +
		"1,2,\"two\nlines, and\n\n\"\"more\"\"\",1\n" + // 6 to 9
		"   \n" +
		"1,2,three,deep\n" + // 11
		"1,2,\"# no comment\",1\n" // 12
	table := readText(t, text, TableOptions{})
	var rows []int32
	for _, r := range table.Readings {
		rows = append(rows, r.Row)
	}
	if !reflect.DeepEqual(rows, []int32{4, 6, 11, 12}) {
		t.Errorf("rows on lines %v", rows)
	}
	if note := table.Readings[1].Note; note != "two\nlines, and\n\n\"more\"" {
		t.Errorf("note %q", note)
	}
	if len(table.Problems) != 1 || table.Problems[0].Row != 11 || table.Problems[0].Column != 11 {
		t.Errorf("problems %v", table.Problems)
	}
}

// Damage costs the row it is in and no other.
func TestDamagedRows(t *testing.T) {
	good := func(n int) string { return fmt.Sprintf("1.%d,2.%d,A%d,\"note, %d\"\n", n, n, n, n) }
	tests := []struct {
		name, row string
		readable  int // of the one damaged row
		row4, col int
		cause     string
	}{
		{"too few fields", "1,2,A\n", 0, 4, 0, "3 fields where the header has 4"},
		{"too many fields", "1,2,A,b,c\n", 0, 4, 0, "5 fields where the header has 4"},
		{"quote never closed", "1,2,\"A,b\n", 0, 4, 5, "a quote is never closed"},
		{"quote never closed in the last field", "1,2,Ä,\"b\n", 1, 4, 7, "a quote is never closed"},
		{"quote within quotes", "1,2,A,\"the 6\" main\"\n", 1, 4, 13, "there is text after a closing quote"},
		{"inch mark", "1,2,A,the 6\" main\n", 1, 0, 0, ""},
		{"zero bytes", "1,2,A,\x00\x00\n", 0, 4, 0, "binary data"},
		{"not UTF-8", "1,2,A,stra\xdfe\n", 1, 4, 7, "not UTF-8"},
		{"too long", "1,2,A," + strings.Repeat("x", 1<<20) + "\n", 0, 4, 0, "longer than 1 MB"},
		{"empty row", ",,,\n", 0, 4, 0, "the row is empty"},
		{"empty row of blanks and quotes, too short", " ,\"\", \n", 0, 4, 0, "the row is empty"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := "lat,lon,point,note\n" + good(1) + good(2) + tt.row + good(3) + good(4) + good(5)
			table := readText(t, text, TableOptions{})
			if table.Rows != 6 || len(table.Readings) != 5+tt.readable {
				t.Fatalf("%d rows, %d readings, problems %v", table.Rows, len(table.Readings), table.Problems)
			}
			last := table.Readings[len(table.Readings)-1]
			if last.Row != 7 || last.Note != "note, 5" {
				t.Errorf("the last row is %+v", last)
			}
			if tt.cause == "" {
				if len(table.Problems) > 0 {
					t.Errorf("problems %v", table.Problems)
				}
				return
			}
			if len(table.Problems) != 1 {
				t.Fatalf("problems %v", table.Problems)
			}
			p := table.Problems[0]
			if p.Row != tt.row4 || p.Column != tt.col || !strings.Contains(p.Cause, tt.cause) || p.Hint == "" || p.Warn != (tt.readable == 1) {
				t.Errorf("%+v", p)
			}
		})
	}
}

func TestFileCutOff(t *testing.T) {
	table := readText(t, "lat,lon,depth_m\n1,2,0.85\n1,2", TableOptions{})
	if table.Unreadable != 1 || !strings.Contains(table.Problems[0].Hint, "ends in the middle") {
		t.Errorf("%+v", table.Problems)
	}
}

func TestReaderFailsInTheMiddle(t *testing.T) {
	broken := errors.New("the card was pulled")
	r := io.MultiReader(strings.NewReader("lat,lon\n"+strings.Repeat("1,2\n", 100_000)), iotest.ErrReader(broken))
	_, err := ReadTable(r, "walk.csv", 0, TableOptions{})
	var p *trace.Problem
	if !errors.As(err, &p) || !errors.Is(err, broken) || p.Row != 100_002 {
		t.Errorf("%v", err)
	}
}

// A line without end must not fill the memory.
func TestEndlessLine(t *testing.T) {
	if testing.Short() {
		t.Skip("reads hundreds of megabytes")
	}
	endless := func() io.Reader { return io.LimitReader(repeat('7'), 1<<27) }
	_, err := ReadTable(endless(), "walk.csv", 0, TableOptions{})
	var p *trace.Problem
	if !errors.As(err, &p) || !strings.Contains(p.Cause, "does not end within 1 MB") || p.Row != 1 {
		t.Errorf("as header: %v", err)
	}
	allocated := testing.AllocsPerRun(1, func() {
		r := io.MultiReader(strings.NewReader("lat,lon\n1,2\n"), endless())
		table, err := ReadTable(r, "walk.csv", 0, TableOptions{})
		if err != nil || len(table.Readings) != 1 || table.Unreadable != 1 || table.Problems[0].Row != 3 {
			t.Errorf("as row: %v, %+v", err, table)
		}
	})
	if allocated > 1000 {
		t.Errorf("%g allocations for three lines", allocated)
	}
}

// repeat is a byte without end.
type repeat byte

func (b repeat) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(b)
	}
	return len(p), nil
}

func TestWarningsAreBounded(t *testing.T) {
	table := readText(t, "lat,lon,depth_m\n"+strings.Repeat("1,2,x\n", 2500), TableOptions{})
	last := table.Problems[len(table.Problems)-1]
	if len(table.Readings) != 2500 || len(table.Problems) != maxWarnings+1 || !strings.Contains(last.Cause, "1500 more values") {
		t.Errorf("%d readings, %d problems, last %v", len(table.Readings), len(table.Problems), &last)
	}
}

// A reading must not hold on to the text of its whole row.
func TestRepeatedTextIsKeptOnce(t *testing.T) {
	table := readText(t, "lat,lon,line\n1,2,W-1\n1,2,W-1\n", TableOptions{})
	a, b := table.Readings[0].Line, table.Readings[1].Line
	if a != "W-1" || unsafe.StringData(a) != unsafe.StringData(b) {
		t.Error("the line's name is kept twice")
	}
}

func TestDefaultLine(t *testing.T) {
	for name, want := range map[string]string{"trace.csv": "trace", "north side.2026.txt": "north side.2026", "trace": "trace", ".csv": ".csv"} {
		table, err := ReadTable(strings.NewReader("lat,lon\n1,2\n"), name, 3, TableOptions{})
		if err != nil || table.Readings[0].Line != want || table.Readings[0].File != 3 {
			t.Errorf("%s: line %q of file %d, %v", name, table.Readings[0].Line, table.Readings[0].File, err)
		}
	}
}

func BenchmarkReadTable(b *testing.B) {
	var text strings.Builder
	text.WriteString("line,point,time,lat,lon,elev_m,fix,hdop,h_acc_m,depth_m,current_ma,signal_low,signal_high,null_offset_m,phase,freq_hz,hookup\n")
	const rows = 20_000
	for i := range rows {
		fmt.Fprintf(&text, "W-%d,A%d,2026-05-12T09:%02d:%02d.4Z,44.%07d,-71.%07d,20.01,4,0.8,0.007,1.02,68.2,47.10,32.71,-0.016,with,512,direct\n",
			i/500, i, i/60%60, i%60, i, i)
	}
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		table, err := ReadTable(strings.NewReader(text.String()), "walk.csv", 0, TableOptions{Bytes: int64(text.Len())})
		if err != nil || len(table.Readings) != rows || table.Readings[rows-1].DepthM != 1.02 {
			b.Fatal(err, len(table.Readings))
		}
	}
}
