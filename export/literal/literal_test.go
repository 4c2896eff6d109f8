package literal

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"
)

// Text from the input, whatever it holds, comes back as it was.
func TestGeoJSONStrings(t *testing.T) {
	for _, s := range []string{
		"", `a"b\c`, "tab\tnew\nline\r\x00\x1f", "</script>&amp;", "Ünïcödé 管 🚰", "\u2028\u2029", "bad \xff utf-8 \xc3", "\u00ad\ufeff",
	} {
		var got string
		if err := json.Unmarshal(AppendJSON(nil, s), &got); err != nil {
			t.Errorf("%q: %v", s, err)
		}
		if want := strings.ToValidUTF8(s, "\uFFFD"); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
		if b := AppendJSON(nil, s); !utf8.Valid(b) || bytes.ContainsAny(b, "\u2028\u2029\x00\n") {
			t.Errorf("%q is written as %q", s, b)
		}
	}
}

func TestAppendReal(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 3, "0.0"}, {-0.0001, 3, "0.0"}, {12, 3, "12.0"}, {-1.0454, 3, "-1.045"}, {0.007, 3, "0.007"},
		{math.NaN(), 3, "null"}, {math.Inf(-1), 3, "null"}, {1e300, 3, "1e+300"}, {8192, 0, "8192.0"},
	} {
		if got := string(AppendReal(nil, c.v, c.decimals)); got != c.want {
			t.Errorf("%v: got %s, want %s", c.v, got, c.want)
		}
	}
	if got := string(AppendFixed(nil, -7150200000, 8)); got != "-71.502" {
		t.Errorf("got %s", got)
	}
}
