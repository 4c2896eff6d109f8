package intake

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf16"

	"loamline.example/trace"
)

// A job file that a word processor, another encoding or a decimal comma spoilt is refused
// with the place and what to do.
func TestJobFilesThatAreNotPlainText(t *testing.T) {
	const good = "ticket = \"T-1\"\nantenna_gap_m = 0.4\n"
	utf16le := func(mark string) string {
		var b strings.Builder
		for _, u := range utf16.Encode([]rune(mark + good)) {
			b.WriteByte(byte(u))
			b.WriteByte(byte(u >> 8))
		}
		return b.String()
	}
	for _, c := range []struct {
		text        string
		row, column int
		cause, hint string
	}{
		{utf16le("\ufeff"), 1, 1, "UTF-16", "UTF-8"},
		{utf16le(""), 1, 2, "UTF-16", "UTF-8"},
		{"PK\x03\x04word/document.xml", 1, 1, "a document", "plain text"},
		{strings.Replace(good, `"T-1"`, "\u201cT-1\u201d", 1), 1, 10, "curly quote (\u201c, U+201C)", "straight quotes"},
		{strings.Replace(good, `"T-1"`, "\u2018T-1\u2019", 1), 1, 10, "curly quote", "straight quotes"},
		{good + "[columns]\n\u201cdepth_in\u201d = \"d\"\n", 4, 1, "curly quote", "straight quotes"},
		{strings.Replace(good, "ticket =", "ticket\u00a0=", 1), 1, 7, "invisible character (U+00A0)", "plain spaces"},
		{strings.Replace(good, "0.4", "0,4", 1), 2, 18, "a decimal comma", "0.4"},
		{strings.Replace(good, "T-1", "Stra\xdfe", 1), 1, 15, "not UTF-8", "UTF-8"},
		{strings.Replace(good, "0.4", `"0,4 m"`, 1), 2, 1, "its decimal mark is a point", ""},
		{good + "[tolerance]\nhalf_width = \"0,5 m\"\n", 4, 1, `write "0.5 m"`, ""},
	} {
		_, err := ReadJobFile(strings.NewReader(c.text), "job.toml")
		var p *trace.Problem
		if !errors.As(err, &p) || p.Row != c.row || p.Column != c.column || !strings.Contains(p.Cause, c.cause) || !strings.Contains(p.Hint, c.hint) {
			t.Errorf("%q: %v", c.text, err)
		}
	}
	for _, text := range []string{good, "\ufeff" + good, strings.Replace(good, "T-1", "T \u201c1\u201d", 1), good + "# \u201cas read\u201d\n"} {
		if _, err := ReadJobFile(strings.NewReader(text), "job.toml"); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A day that the calendar has not, or in another order, is told with its key and with how
// to write it.
func TestDaysThatAreNone(t *testing.T) {
	for text, want := range map[string]string{
		"date = 2026-02-31\n":                               "job.toml:1:8: date: 2026-02-31 is no day of the calendar; write an existing day as YYYY-MM-DD, such as 2026-05-12",
		"ticket = \"a\"\nvalid_until = 2026-06-31 # week\n": "valid_until: 2026-06-31 is no day",
		"date = 2026-13-01T10:00:00\n":                      "date: 2026-13-01 is no day",
		"date = 31/02/2026\r\n":                             "date: 31/02/2026 is no day of the calendar; write an existing day",
		"date = 12.05.2026\n":                               "date: 12.05.2026 is no day",
		"date = 2026-2-3\n":                                 "date: 2026-2-3 is no day",
		"date = \"2026-02-31\"\n":                           `date: "2026-02-31" is not a day: write an existing day as YYYY-MM-DD`,
		"antenna_gap_m = 0.4.5\n":                           "a job file is TOML",
	} {
		_, err := ReadJobFile(strings.NewReader(text), "job.toml")
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q says %v, not %s", text, err, want)
		}
	}
}
