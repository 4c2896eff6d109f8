package intake

import (
	"archive/zip"
	"fmt"
	"io"
	"os"
	"path"
	"strings"

	"loamline.example/trace"
)

// How much a Shapefile in a zip may unpack to: a small file that fills the memory
// is no layer.
const (
	maxUnpackedBytes = 4 << 30
	maxPackingRatio  = 100
	smallBytes       = 64 << 20
)

// readZip reads a Shapefile out of a zip.
func (l *layerReader) readZip(f *os.File) error {
	info, err := f.Stat()
	if err != nil {
		return err
	}
	z, err := zip.NewReader(f, info.Size())
	if err != nil {
		return &trace.Problem{File: l.file, Cause: "this zip cannot be read: " + err.Error(), Err: err, Hint: "pack the Shapefile's files again"}
	}
	var names []string
	chosen := ""
	for _, e := range z.File {
		base := path.Base(e.Name)
		if !strings.EqualFold(path.Ext(base), ".shp") || strings.HasPrefix(base, ".") {
			continue
		}
		name := strings.TrimSuffix(base, path.Ext(base))
		names = append(names, name)
		if l.ref.Layer == "" || strings.EqualFold(name, l.ref.Layer) {
			chosen = e.Name
		}
	}
	switch {
	case len(names) == 0:
		return l.badLayer("", "", "there is no Shapefile (.shp) in the zip", "put the layer's .shp, .dbf, .prj and .cpg into it")
	case chosen == "":
		return l.badLayer("layer", l.ref.Layer, "there is no such Shapefile in the zip", "it has: "+strings.Join(names, ", "))
	case l.ref.Layer == "" && len(names) > 1:
		return l.badLayer("layer", "", fmt.Sprintf("there are %d Shapefiles in the zip, and none of them is named", len(names)), "name one in its [[reference]], layer = …: "+strings.Join(names, ", "))
	}
	stem := strings.TrimSuffix(chosen, path.Ext(chosen))
	parts := map[string]io.Reader{}
	for _, e := range z.File {
		ending := strings.ToLower(path.Ext(e.Name))
		if !strings.EqualFold(strings.TrimSuffix(e.Name, path.Ext(e.Name)), stem) || parts[ending] != nil || ending != ".shp" && ending != ".dbf" && ending != ".prj" && ending != ".cpg" {
			continue
		}
		if e.UncompressedSize64 > maxUnpackedBytes || e.UncompressedSize64 > smallBytes && e.UncompressedSize64 > maxPackingRatio*e.CompressedSize64 {
			return l.badLayer("", e.Name, fmt.Sprintf("unpacked this would be %d MB", e.UncompressedSize64>>20), "give the Shapefile's files themselves")
		}
		r, err := e.Open()
		if err != nil {
			return &trace.Problem{File: l.file, Value: e.Name, Cause: "this file in the zip cannot be read: " + err.Error(), Err: err, Hint: "pack the Shapefile's files again"}
		}
		defer r.Close()
		parts[ending] = r
	}
	return l.readShapes(shapefile{shp: parts[".shp"], dbf: parts[".dbf"], prj: parts[".prj"], cpg: parts[".cpg"]})
}
