package page

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
)

// A page prints whole: cautions, evidence and the fate of readings with it.
func TestPagePrints(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	tab := openPage(t, b, "sample", sample.Sheet(), 1000, 900, false)
	path := filepath.Join(t.TempDir(), "page.pdf")
	if dir := os.Getenv("LOAMLINE_LOOK"); dir != "" {
		path = filepath.Join(dir, "printed.pdf")
	}
	if err := os.WriteFile(path, tab.PDF(), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("no pdftotext on this machine")
	}
	text, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	expect(t, string(text), "Ticket T-2041", "CAUTION", "Check before digging", "do not trust", "Null lies 0.14 m right of peak", "position outlier", "SHA-256")
	// Few sheets: plan and profile, and the lists in two columns.
	info, err := exec.Command("pdfinfo", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`Pages: +(\d+)`).FindSubmatch(info)
	if n, err := strconv.Atoi(string(m[1])); err != nil || n > 4 {
		t.Errorf("the page prints on %s sheets", m[1])
	}
}
