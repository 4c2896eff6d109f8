package intake

import (
	"strings"
	"testing"
)

// What people hand in for a table is called by what it looks like, with what to do.
func TestWhatIsNoTable(t *testing.T) {
	zip := "PK\x03\x04" + strings.Repeat("\x00", 26)
	nmea := "$GPGGA,092750.000,5321.6802,N,00630.3372,W,1,8,1.03,61.7,M,55.2,M,,*76\n"
	for _, c := range []struct{ text, what, do string }{
		{`{"type":"FeatureCollection","features":[]}`, "GeoJSON", "columns lat and lon"},
		{"{\n \"crs\": {\"type\": \"name\"},\n \"type\": \"FeatureCollection\"}", "GeoJSON", "--reference"},
		{`[{"lat": 1, "lon": 2}]`, "JSON", "columns lat and lon"},
		{nmea + nmea, "NMEA 0183", "--gnss-log"},
		{"\ufeff" + strings.Replace(nmea, "GP", "GN", 1), "NMEA 0183", "--gnss-log"},
		{"<?xml version=\"1.0\"?>\n<gpx version=\"1.1\"></gpx>", "GPX", "--gnss-log"},
		{"<?xml version=\"1.0\"?>\n<!-- <a> -->\n<kml xmlns=\"k\"></kml>", "KML", "columns lat and lon"},
		{"<!DOCTYPE html>\n<html>", "a web page", "download"},
		{zip + "[Content_Types].xml", "XLSX", "CSV"}, {zip + "xl/workbook.xml", "XLSX", "CSV"},
		{zip + "mimetypeapplication/vnd.oasis.opendocument.spreadsheet", "ODS", "CSV"},
		{zip + "doc.kml", "KMZ", "columns lat and lon"}, {zip + "a.csv", "a zip archive", "take the table out"},
		{"%PDF-1.7\n", "a PDF document", "CSV"}, {"{\\rtf1 lat,lon}", "RTF", "CSV"},
		{"ticket = \"T-1\"\nunits = \"us\"\n", "a job file", "--job"}, {"[[line]]\nname = \"W-1\"\n", "a job file", "--job"},
	} {
		_, err := ReadTable(strings.NewReader(c.text), "walk.csv", 0, TableOptions{})
		if err == nil || !strings.Contains(err.Error(), c.what) || !strings.Contains(err.Error(), c.do) || !strings.Contains(err.Error(), "walk.csv:1") {
			t.Errorf("%.30q: %v", c.text, err)
		}
	}
	for _, text := range []string{"lat,lon\n1,2\n", "$lat,lon\n1,2\n", "a=b,lat,lon\n1,2,3\n", "[m],lat,lon\n1,2,3\n", "\n\nlat;lon\n1;2\n"} {
		if p := tableProblem("walk.csv", []byte(text)); p != nil {
			t.Errorf("%q: %v", text, p)
		}
	}
}
