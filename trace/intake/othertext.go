package intake

import (
	"bytes"
	"regexp"

	"loamline.example/trace"
)

// otherText lists what people hand in for a table and is text or an archive of texts, by
// how it begins, white space aside, and what to do with each.
var otherText = []struct {
	begins     *regexp.Regexp
	what, hint string
}{
	{regexp.MustCompile(`^PK\x03\x04(?s:.{26})(\[Content_Types\]\.xml|_rels/|xl/|docProps/)`), "a spreadsheet (XLSX)", saveAsCSV},
	{regexp.MustCompile(`^PK\x03\x04(?s:.{26})mimetypeapplication/vnd\.oasis`), "a spreadsheet (ODS)", saveAsCSV},
	{regexp.MustCompile(`^PK\x03\x04(?s:.{26})[^/]*\.kml`), "a KMZ file", asTable},
	{regexp.MustCompile(`^PK\x03\x04`), "a spreadsheet or a zip archive", "take the table out of it, and " + saveAsCSV},
	{regexp.MustCompile(`^[{\[](?s:.{0,400})"type"\s*:\s*"(FeatureCollection|Feature|Topology|Point|LineString|Geometry)`), "GeoJSON", asTable},
	{regexp.MustCompile(`^(\{\s*"|\[\s*(\{|\[\s*[-\d\["{]))`), "JSON", asTable},
	{regexp.MustCompile(`^(\$|!)[A-Z]{2}[A-Z0-9]{3},`), "a GNSS log (NMEA 0183)", asLog},
	{regexp.MustCompile(`^(<\?xml(?s:.*?))?<gpx\b`), "a GNSS log (GPX)", asLog},
	{regexp.MustCompile(`^(<\?xml(?s:.*?))?<kml\b`), "KML", asTable},
	{regexp.MustCompile(`^(?i:<!doctype html|<html\b)`), "a web page", "download the table again: a sign-in page may have come in its place"},
	{regexp.MustCompile(`^<\?xml\b`), "XML", asTable},
	{regexp.MustCompile(`^\{\\rtf`), "a text document (RTF)", saveAsCSV},
	{regexp.MustCompile(`^(\[\[?[a-z_]+\]\]?\s*[\r\n#]|[a-z_]+\s*=\s*("|\d|\[|true|false))`), "a job file (TOML)", "give it with --job, and a readings table beside it"},
}

// What to do with a file that holds places, and with one that a table can be joined to.
const (
	asTable = "export the readings as a table, one row per reading, with columns lat and lon; known lines go with --reference (GeoJSON, GeoPackage or Shapefile)"
	asLog   = "give it with --gnss-log, beside a readings table with the times"
)

// seenOfText is how much of a file is looked at: what it is stands at its beginning. Judgement.
const seenOfText = 4096

// tableProblem says what a file is that is no table and looks like something else, nil
// where it does not. head is how it begins, without a byte-order mark.
func tableProblem(name string, head []byte) *trace.Problem {
	text := bytes.TrimLeft(head, " \t\r\n")
	text = text[:min(len(text), seenOfText)]
	for _, o := range otherText {
		if o.begins.Match(text) {
			return &trace.Problem{File: name, Row: 1, Cause: "the file is " + o.what + ", not a readings table", Hint: o.hint}
		}
	}
	return nil
}
