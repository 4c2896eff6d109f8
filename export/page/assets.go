package page

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"strings"
)

//go:embed page.html.tmpl *.css *.js leaflet/leaflet.js leaflet/leaflet.css leaflet/LICENSE
var pageFiles embed.FS

// pageScripts are joined in this order, each after those that it calls.
var pageScripts = []string{"tongue.js", "words.js", "plane.js", "line.js", "dom.js", "keep.js", "underlay.js", "plan.js", "marks.js", "profile.js", "figures.js", "where.js", "tape.js", "start.js"}

// pageScript is the page's only script: Leaflet as published, less the name of
// a source map that is not there, with the licence that asks to go wherever it
// goes, and our own in one function.
func pageScript() string {
	leaflet, _, _ := strings.Cut(asset("leaflet/leaflet.js"), "//# sourceMappingURL")
	var b strings.Builder
	b.WriteString("/*\n" + asset("leaflet/LICENSE") + "*/\n" + leaflet + "\n(function () {\n'use strict';\n")
	for _, name := range pageScripts {
		b.WriteString(asset(name))
	}
	b.WriteString("}());\n")
	return b.String()
}

// pageStyle is the page's only style sheet.
func pageStyle() string { return asset("leaflet/leaflet.css") + asset("page.css") }

// asset is an embedded file with the line ends that an HTML parser makes of
// any, for the policy's hashes are taken after it.
func asset(name string) string {
	b, err := pageFiles.ReadFile(name)
	if err != nil {
		panic(err) // embedded: it is there or the program was not built
	}
	return strings.ReplaceAll(string(b), "\r\n", "\n")
}

// pagePolicy is the page's Content-Security-Policy (W3C, level 3): nothing but
// the one script and the one style sheet, known by their hashes, and pictures
// from the tile source, if one was named.
func pagePolicy(t TileSource) string {
	pictures := "data:"
	if origin := t.Origin(); origin != "" {
		pictures += " " + origin
	}
	return "default-src 'none'; script-src " + policyHash(pageScript()) + "; style-src " + policyHash(pageStyle()) +
		"; img-src " + pictures + "; base-uri 'none'; form-action 'none'"
}

func policyHash(text string) string {
	h := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(h[:]) + "'"
}
