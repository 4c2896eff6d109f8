package paper

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"loamline.example/export/internal/plan"
)

func draw(t *testing.T) []byte {
	t.Helper()
	c := New(297, 210, Info{Title: "Größe \U0001F6B0", Creator: "test", Date: time.Date(2026, 5, 12, 0, 0, 0, 0, time.UTC)})
	c.Page("one")
	c.Text(plan.Pt{X: 10, Y: 10}, "Ærø, Łódź, Δ 3.4 ± 0.5 \U0001F6B0", Font{SizePt: 8}, Left)
	c.Path([]plan.Pt{{X: 1, Y: 1}, {X: math.NaN(), Y: 2}, {X: 5, Y: 5}}, Pen{WidthMM: 0.3})
	c.Clip(plan.Rect{X: 5, Y: 5, W: 10, H: 10}, func() { c.Box(plan.Rect{W: 100, H: 100}, Gray(200)) })
	c.Area([][]plan.Pt{{{X: 1, Y: 1}, {X: 9, Y: 1}, {X: 9, Y: 9}}}, Black)
	var b bytes.Buffer
	if err := c.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A second file must not see the fonts as the first one left them.
func TestSameCallsSameBytes(t *testing.T) {
	first := draw(t)
	if !bytes.Equal(first, draw(t)) {
		t.Error("the same calls gave different bytes")
	}
}

func TestClean(t *testing.T) {
	c := New(100, 100, Info{})
	cases := map[string]string{
		"W-1":            "W-1",
		"a\nb\tc":        "a b c",
		"Привет, Ωmega":  "Привет, Ωmega",
		"水\U0001F6B0":    "□□",
		"a\u202eb\u0000": "ab",
	}
	for in, want := range cases {
		if got := c.Clean(in); got != want {
			t.Errorf("Clean(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestWrapKeepsWidthAndLetters(t *testing.T) {
	c := New(100, 100, Info{})
	f := Font{SizePt: 8}
	text := "some words and " + strings.Repeat("W", 200) + " then more"
	lines := c.Wrap(text, f, 40)
	for _, l := range lines {
		if w := c.Width(l, f); w > 40 {
			t.Errorf("%q is %.1f mm wide", l, w)
		}
	}
	if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
		t.Errorf("letters were lost: %q", got)
	}
	if short := c.WrapTo(text, f, 40, 2); len(short) != 2 || !strings.HasSuffix(short[1], "…") || c.Width(short[1], f) > 42 {
		t.Errorf("held to two lines: %q", short)
	}
}

func TestWrapKeepsFigureAndUnitTogether(t *testing.T) {
	c := New(100, 100, Info{})
	f := Font{SizePt: 8}
	for w := 14.0; w < 40; w += 0.5 {
		for _, l := range c.Wrap("the line lies 1.48 m ± 0.12 off the paint mark", f, w) {
			if strings.HasPrefix(l, "m ") || strings.HasPrefix(l, "±") || strings.HasSuffix(l, "±") || l == "m" {
				t.Errorf("at %.1f mm a line is %q", w, l)
			}
		}
	}
}

func TestFitEndsInAnEllipsis(t *testing.T) {
	c := New(100, 100, Info{})
	f := Font{SizePt: 8}
	if got := c.Fit("short", f, 40); got != "short" {
		t.Errorf("got %q", got)
	}
	if got := c.Fit(strings.Repeat("long ", 40), f, 40); !strings.HasSuffix(got, "…") || c.Width(got, f) > 40 {
		t.Errorf("got %q", got)
	}
}

func TestHex(t *testing.T) {
	if Hex("#0057B8") != (Color{0, 0x57, 0xB8}) || Hex("blue") != Black {
		t.Error("colours are misread")
	}
}

// A text after a clip is as black as it says, whatever was filled within.
func TestTextAfterAClipKeepsItsColour(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm is not installed: the rendered colour is not checked")
	}
	c := New(40, 20, Info{})
	c.Page("one")
	c.Box(plan.Rect{X: 30, Y: 12, W: 5, H: 5}, Gray(238))
	c.Clip(plan.Rect{X: 30, Y: 12, W: 5, H: 5}, func() {
		c.Text(plan.Pt{X: 30, Y: 16}, "x", Font{SizePt: 8}, Left)
		c.Box(plan.Rect{X: 31, Y: 13, W: 1, H: 1}, Black)
	})
	c.Text(plan.Pt{X: 2, Y: 10}, "WWWW", Font{Face: Bold, SizePt: 20}, Left)
	var b bytes.Buffer
	if err := c.Write(&b); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "a.pdf")
	os.WriteFile(file, b.Bytes(), 0o600)
	out, err := exec.Command("pdftoppm", "-r", "72", "-gray", "-W", "70", "-H", "34", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	if darkest := slices.Min(out[len(out)-70*34:]); darkest > 40 {
		t.Errorf("the darkest dot of a black text is %d", darkest)
	}
}
