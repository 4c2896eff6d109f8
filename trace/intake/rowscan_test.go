package intake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// scanAll splits a text with the scanner.
func scanAll(t testing.TB, text string, comma byte, want int) [][]string {
	t.Helper()
	s, err := sniff(strings.NewReader(text), "walk.csv", func(string) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	s.comma = comma
	var out [][]string
	for {
		rec, err := s.next(want)
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		if rec.fault != faultNone {
			t.Fatalf("fault %d in %q", rec.fault, rec.text)
		}
		fields := make([]string, len(rec.fields))
		for i := range fields {
			fields[i] = rec.field(i)
		}
		out = append(out, fields)
	}
}

// Go's encoding/csv writes RFC 4180; what it writes must come back, whatever
// stands in the fields.
func TestScannerReadsWhatEncodingCSVWrites(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	alphabet := []string{"a", "7", ",", ";", "\t", "\"", "\"\"", "\n", " ", "#", "ü", "", "'", "\\"}
	for range 2000 {
		comma := []byte{',', ';', '\t'}[rng.IntN(3)]
		width := 2 + rng.IntN(4)
		var want [][]string
		for range 1 + rng.IntN(5) {
			row := make([]string, width)
			for i := range row {
				for range rng.IntN(6) {
					row[i] += alphabet[rng.IntN(len(alphabet))]
				}
				row[i] = strings.TrimLeft(row[i], "#") // at a line's start it would be a comment
			}
			want = append(want, row)
		}
		var text bytes.Buffer
		w := csv.NewWriter(&text)
		w.Comma, w.UseCRLF = rune(comma), rng.IntN(2) == 0
		if err := w.WriteAll(want); err != nil {
			t.Fatal(err)
		}
		if got := scanAll(t, text.String(), comma, width); !reflect.DeepEqual(got, want) {
			t.Fatalf("wrote %q\n%s\nread %q", want, text.String(), got)
		}
	}
}

// Where encoding/csv reads a text without complaint, the scanner reads the same.
func FuzzScannerAgainstEncodingCSV(f *testing.F) {
	f.Add("a,b\n\"c\n,\"\"d\",e\n")
	f.Add("a,\"b\"\n\n x,\"\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		// Blanks, comments and control characters are ours to treat otherwise.
		if strings.ContainsAny(text, " \t\r#;") || flawOf(strings.ReplaceAll(text, "\n", "")) != faultNone || strings.HasPrefix(text, "\ufeff") {
			return
		}
		r := csv.NewReader(strings.NewReader(text))
		want, err := r.ReadAll()
		if err != nil || len(want) == 0 || len(want[0]) > maxFields {
			return
		}
		for _, n := range notText {
			if strings.HasPrefix(text, n.begins) {
				return
			}
		}
		if tableProblem("walk.csv", []byte(text)) != nil { // text, and no table
			return
		}
		if got := scanAll(t, text, ',', len(want[0])); !reflect.DeepEqual(got, want) {
			t.Fatalf("%q\nread %q\nwant %q", text, got, want)
		}
	})
}
