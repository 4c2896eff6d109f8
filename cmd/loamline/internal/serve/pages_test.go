package serve

import (
	"html"
	"strings"
	"testing"

	"loamline.example/trace"
)

// Every page says in its footer what the short caution says, licensed practice
// and local law included.
func TestFooterCautions(t *testing.T) {
	s := newSite(t, nil)
	_, page := s.do("GET", "/", "", nil)
	_, foot, ok := strings.Cut(html.UnescapeString(string(page)), `<footer class="foot">`)
	if !ok || !strings.Contains(foot, trace.ShortCaution) || !strings.Contains(foot, "licensed practice") {
		t.Errorf("%q", foot)
	}
}
