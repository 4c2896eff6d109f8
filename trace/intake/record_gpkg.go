package intake

import (
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver of GeoPackages

	"loamline.example/trace"
)

// gpkgLayer is a layer of features in a GeoPackage (OGC 12-128r17).
type gpkgLayer struct {
	table, column, kind string
	org                 string // of the reference system
	code                int
}

// readGeoPackage reads the layer that is asked for, or the only one of lines; of its
// features those within reach.
func (l *layerReader) readGeoPackage(path string, within reach) error {
	db, err := sql.Open("sqlite", "file:"+(&url.URL{Path: filepath.ToSlash(path)}).EscapedPath()+"?mode=ro&immutable=1")
	if err != nil {
		return l.noGeoPackage(err)
	}
	defer db.Close()
	layers, err := gpkgLayers(db)
	if err != nil {
		return l.noGeoPackage(err)
	}
	y, err := l.choose(layers)
	if err != nil {
		return err
	}
	if !l.ref.Background && holdsAreas(y.kind) {
		return areasProblem(l.file, fmt.Sprintf("the layer %q holds areas (%s) and no line", y.table, y.kind))
	}
	l.ref.Layer = y.table
	if l.ref.CRS == "" {
		if !strings.EqualFold(y.org, "EPSG") {
			return l.badLayer("crs", y.table, fmt.Sprintf("the layer's reference system is %s %d and no EPSG code", orNone(y.org), y.code), "name it in the layer's [[reference]]: crs = \"EPSG:…\"")
		}
		if err := l.ownSystem(fmt.Sprintf("EPSG:%d", y.code)); err != nil {
			return err
		}
	}
	if err := (&gpkgReader{l: l, db: db, y: y}).read(within); err != nil {
		var p *trace.Problem
		if errors.As(err, &p) {
			return err
		}
		return l.noGeoPackage(err)
	}
	return nil
}

// holdsAreas reports whether a type of geometry, as SQL names it, is one of areas.
func holdsAreas(kind string) bool {
	return strings.Contains(kind, "POLYGON") || strings.Contains(kind, "SURFACE")
}

func orNone(s string) string {
	if s == "" {
		return "NONE"
	}
	return s
}

func (l *layerReader) noGeoPackage(err error) error {
	return &trace.Problem{File: l.file, Cause: "this GeoPackage cannot be read: " + err.Error(), Err: err, Hint: "open it in a GIS and save the layer again"}
}

func (l *layerReader) badLayer(field, value, cause, hint string) error {
	return &trace.Problem{File: l.file, Field: field, Value: value, Cause: cause, Hint: hint}
}

func gpkgLayers(db *sql.DB) ([]gpkgLayer, error) {
	rows, err := db.Query(`SELECT c.table_name, g.column_name, UPPER(g.geometry_type_name), COALESCE(s.organization, ''), COALESCE(s.organization_coordsys_id, g.srs_id)
	 FROM gpkg_contents c JOIN gpkg_geometry_columns g ON g.table_name = c.table_name
	 LEFT JOIN gpkg_spatial_ref_sys s ON s.srs_id = g.srs_id WHERE c.data_type = 'features' ORDER BY c.table_name`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []gpkgLayer
	for rows.Next() {
		var y gpkgLayer
		if err := rows.Scan(&y.table, &y.column, &y.kind, &y.org, &y.code); err != nil {
			return nil, err
		}
		out = append(out, y)
	}
	return out, rows.Err()
}

// choose finds the layer by its name, or the only one that may be meant.
func (l *layerReader) choose(layers []gpkgLayer) (gpkgLayer, error) {
	var names []string
	var may []gpkgLayer
	for _, y := range layers {
		if y.table == l.ref.Layer || l.ref.Layer != "" && strings.EqualFold(y.table, l.ref.Layer) {
			return y, nil
		}
		names = append(names, y.table)
		if !strings.Contains(y.kind, "POINT") && (l.ref.Background || !holdsAreas(y.kind)) {
			may = append(may, y)
		}
	}
	switch {
	case len(layers) == 0:
		return gpkgLayer{}, l.badLayer("", "", "the GeoPackage has no layer of features", "save the lines into it as a layer")
	case l.ref.Layer != "":
		return gpkgLayer{}, l.badLayer("layer", l.ref.Layer, "the GeoPackage has no such layer", "it has: "+strings.Join(names, ", "))
	case len(layers) == 1:
		return layers[0], nil
	case len(may) == 1:
		return may[0], nil
	}
	return gpkgLayer{}, l.badLayer("layer", "", fmt.Sprintf("the GeoPackage has %d layers, and none of them is named", len(layers)), "name one in its [[reference]], layer = …: "+strings.Join(names, ", "))
}

// gpkgBody is the well-known binary behind a GeoPackage geometry's header (clause
// 2.1.3 of the standard); empty for an empty geometry.
func gpkgBody(blob []byte) ([]byte, error) {
	if len(blob) < 8 || string(blob[:2]) != "GP" {
		return nil, errors.New("its geometry is not a GeoPackage's")
	}
	envelope := int(blob[3] >> 1 & 7)
	if envelope > 4 {
		return nil, errors.New("its geometry has an unknown envelope")
	}
	header := 8 + []int{0, 32, 48, 48, 64}[envelope]
	if len(blob) < header {
		return nil, errShortWKB
	}
	if blob[3]&0x10 != 0 {
		return nil, nil
	}
	return blob[header:], nil
}
