package page

import (
	"fmt"
	"net/url"
	"strings"
)

// TileSource names a background map of square tiles in Web Mercator. Nothing is
// fetched unless somebody names one.
type TileSource struct {
	URL         string // "https://tiles.example/{z}/{x}/{y}.png"
	Attribution string // shown on the plan
	MaxZoom     int    // deepest level that the source has; 0 means 19
}

// Origin is the scheme and host that tiles come from, or empty.
func (t TileSource) Origin() string {
	u, err := url.Parse(t.URL)
	if err != nil || t.URL == "" {
		return ""
	}
	return u.Scheme + "://" + u.Host
}

// Host is who would learn of the page being opened.
func (t TileSource) Host() string {
	_, host, _ := strings.Cut(t.Origin(), "://")
	return host
}

// Check fills in the zoom and refuses what a browser could not fetch, or what
// would open the page's policy to more than one host.
func (t TileSource) Check() (TileSource, error) {
	if t.URL == "" {
		return TileSource{}, nil
	}
	for _, part := range []string{"{z}", "{x}", "{y}"} {
		if !strings.Contains(t.URL, part) {
			return t, fmt.Errorf("tile source %q has no %s: write it as https://host/{z}/{x}/{y}.png", t.URL, part)
		}
	}
	u, err := url.Parse(t.URL)
	if err != nil {
		return t, fmt.Errorf("tile source %q is not an address: %w", t.URL, err)
	}
	if u.Scheme != "https" && u.Scheme != "http" {
		return t, fmt.Errorf("tile source %q: it must begin with https:// or http://", t.URL)
	}
	if u.Host == "" || u.User != nil || strings.ContainsAny(u.Host, "{}*;, '\"") {
		return t, fmt.Errorf("tile source %q: name one host, without a placeholder in it", t.URL)
	}
	if t.MaxZoom == 0 {
		t.MaxZoom = 19
	}
	if t.MaxZoom < 1 || t.MaxZoom > 24 {
		return t, fmt.Errorf("tile source %q: the deepest zoom is 1 to 24, not %d", t.URL, t.MaxZoom)
	}
	return t, nil
}
