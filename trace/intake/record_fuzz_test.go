package intake

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"loamline.example/geo"
)

// Whatever bytes come as a Shapefile's parts or as well-known binary, there are
// records or an error, and never a panic.
func FuzzLayerBytes(f *testing.F) {
	shp := make([]byte, 100)
	binary.BigEndian.PutUint32(shp, shapeFileCode)
	binary.LittleEndian.PutUint32(shp[28:], shapeVersion)
	binary.LittleEndian.PutUint32(shp[32:], 3)
	content := binary.LittleEndian.AppendUint32(nil, 3)
	content = append(content, make([]byte, 32)...)
	content = binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(content, 1), 2)
	content = binary.LittleEndian.AppendUint32(content, 0)
	for _, v := range []float64{-71.5, 44.1, -71.4, 44.2} {
		content = binary.LittleEndian.AppendUint64(content, math.Float64bits(v))
	}
	shp = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(shp, 1), uint32(len(content)/2))
	shp = append(shp, content...)
	wkb := []byte{1, 2, 0, 0, 0x80, 2, 0, 0, 0}
	dbf := append([]byte{3, 70, 1, 1, 1, 0, 0, 0, 65, 0, 6, 0}, make([]byte, 20)...)
	dbf = append(dbf, append([]byte("name\x00\x00\x00\x00\x00\x00\x00C\x00\x00\x00\x00\x05"), make([]byte, 15)...)...)
	dbf = append(dbf, append([]byte{0x0d}, []byte(" main1\x1a")...)...)
	f.Add(shp, dbf, []byte(`GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`), wkb)
	arc := []byte{1, 8, 0, 0, 0, 3, 0, 0, 0}
	for _, v := range []float64{-71.5, 44.1, -71.45, 44.15, -71.4, 44.1} {
		arc = binary.LittleEndian.AppendUint64(arc, math.Float64bits(v))
	}
	f.Add(shp, dbf, []byte("?"), arc)
	frame, err := geo.NewFrame("", "", 0)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, shp, dbf, prj, wkb []byte) {
		l, err := newLayerReader(ReferenceFile{File: File{Name: "fuzz.shp"}}, 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := l.readShapes(shapefile{shp: bytes.NewReader(shp), dbf: bytes.NewReader(dbf), prj: bytes.NewReader(prj)}); err == nil {
			records, _, _ := l.finish()
			for _, r := range records {
				if len(r.Path) < 2 || len(r.DepthM) != len(r.Path) {
					t.Errorf("a record of %d positions and %d depths", len(r.Path), len(r.DepthM))
				}
			}
		}
		for _, areas := range []bool{false, true} {
			if s := wkbShape(wkb, frame, areas); s.err == nil {
				for _, line := range s.lines {
					for _, p := range line {
						if !p.Valid() {
							t.Errorf("a position %v", p)
						}
					}
				}
			}
		}
	})
}
