package style

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"loamline.example/trace"
)

// The classes and colour names of the APWA Uniform Color Code, as adopted for
// instance by Ohio R.C. 3781.29 and Tenn. Code 65-31-108; the hue ranges are
// ours and say only that red looks red.
func TestStylesFollowUniformColorCode(t *testing.T) {
	code := map[trace.Utility]struct {
		color        string
		hueLo, hueHi float64
		name         string
	}{
		trace.Electric:      {"red", -15, 15, "electric power"},
		trace.Communication: {"orange", 18, 40, "communication"},
		trace.Gas:           {"yellow", 45, 65, "gas, oil, steam"},
		trace.Sewer:         {"green", 90, 170, "sewer, drain"},
		trace.Water:         {"blue", 195, 250, "potable water"},
		trace.Reclaimed:     {"purple", 260, 310, "reclaimed water, irrigation, slurry"},
	}
	seen := map[string]bool{}
	for i, u := range trace.Utilities() {
		s := Of(u)
		if s.Utility != u || All()[i].Utility != u {
			t.Fatalf("%s: style missing or out of order", u)
		}
		for _, key := range []string{"code " + s.Code, "hex " + s.Hex, "dash " + dashText(s.Dash)} {
			if seen[key] {
				t.Errorf("%s: %s is used twice", u, key)
			}
			seen[key] = true
		}
		if c := contrastOnWhite(t, s.InkHex); c < 4.5 {
			t.Errorf("%s: ink contrast %.2f is below 4.5 (WCAG 2.1, 1.4.3)", u, c)
		}
		hue, sat := hueOf(t, s.Hex)
		want, ok := code[u]
		if !ok {
			if sat != 0 {
				t.Errorf("%s must not borrow a colour of the code", u)
			}
			continue
		}
		if s.Name != want.name {
			t.Errorf("%s: called %q, want %q", u, s.Name, want.name)
		}
		if s.Color != want.color || hue < want.hueLo || hue > want.hueHi {
			t.Errorf("%s: %s with hue %.0f, want %s in %.0f..%.0f", u, s.Color, hue, want.color, want.hueLo, want.hueHi)
		}
	}
}

func TestStyleOfForeignClassIsUnknown(t *testing.T) {
	if got := Of("pneumatic mail").Code; got != "UNK" {
		t.Errorf("got %s", got)
	}
}

func dashText(d []float64) string {
	var b strings.Builder
	for _, v := range d {
		b.WriteString(strconv.FormatFloat(v, 'f', 1, 64) + " ")
	}
	return b.String()
}

func rgb(t *testing.T, hex string) [3]float64 {
	t.Helper()
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is not #RRGGBB", hex)
	}
	return [3]float64{float64(v>>16) / 255, float64(v>>8&255) / 255, float64(v&255) / 255}
}

// contrastOnWhite is the contrast ratio of WCAG 2.1.
func contrastOnWhite(t *testing.T, hex string) float64 {
	l := 0.0
	for i, c := range rgb(t, hex) {
		if c <= 0.03928 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		l += c * []float64{0.2126, 0.7152, 0.0722}[i]
	}
	return 1.05 / (l + 0.05)
}

// hueOf returns the hue in degrees, reds from -60, and the spread of channels.
func hueOf(t *testing.T, hex string) (float64, float64) {
	c := rgb(t, hex)
	hi, lo := max(c[0], c[1], c[2]), min(c[0], c[1], c[2])
	d := hi - lo
	if d == 0 {
		return 0, 0
	}
	switch hi {
	case c[0]:
		return 60 * (c[1] - c[2]) / d, d
	case c[1]:
		return 60*(c[2]-c[0])/d + 120, d
	}
	return 60*(c[0]-c[1])/d + 240, d
}
