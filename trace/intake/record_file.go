package intake

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"path"
	"strings"

	"loamline.example/trace"
)

// readFile reads a layer from a file, whose first bytes tell its format: a
// GeoPackage, a Shapefile, a Shapefile in a zip, or GeoJSON.
func (l *layerReader) readFile(s *trace.Source, r io.Reader) error {
	buf := bufio.NewReaderSize(r, 1<<16)
	head, _ := buf.Peek(16)
	switch {
	case bytes.HasPrefix(head, []byte("SQLite format 3\x00")):
		if err := l.noJournal(); err != nil {
			return err
		}
		return withCopy(l.file, buf, func(f *os.File) error { return l.readGeoPackage(f.Name(), jobReach(s)) })
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return withCopy(l.file, buf, func(f *os.File) error { return l.readZip(f) })
	case bytes.HasPrefix(head, []byte{0, 0, 0x27, 0x0a}):
		return l.readShapefile(s, buf)
	}
	if err := l.misnamed(head); err != nil {
		return err
	}
	if l.ref.Layer != "" {
		return &trace.Problem{File: l.file, Field: "layer", Value: l.ref.Layer, Cause: "the file has no layers", Hint: "take layer out of its [[reference]]: it is for a GeoPackage, or a zip with several Shapefiles"}
	}
	return readGeoJSON(l, buf)
}

// misnamed refuses a file that is called a format of bytes and does not begin as one: what is
// wrong with its JSON would lead nowhere.
func (l *layerReader) misnamed(head []byte) error {
	kind, called := map[string]string{".shp": "Shapefile", ".gpkg": "GeoPackage", ".zip": "zip"}[strings.ToLower(path.Ext(l.file))]
	begins := bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n")
	if !called || bytes.HasPrefix(begins, []byte("{")) { // GeoJSON under another name is read
		return nil
	}
	is := "does not begin as one"
	if len(head) == 0 {
		is = "is empty"
	}
	return &trace.Problem{File: l.file, Cause: "the file is called a " + kind + " and " + is, Hint: "copy or export the layer again, all its files together"}
}

// noJournal refuses a GeoPackage that another program has open with changes which
// are in a file beside it: they would be passed over.
func (l *layerReader) noJournal() error {
	if l.ref.Beside == nil {
		return nil
	}
	for _, ending := range []string{"-wal", "-journal"} {
		if f, there := l.ref.Beside(ending); there && f.Size > 0 {
			return &trace.Problem{File: l.file, Cause: "another program has this GeoPackage open, with changes in " + f.Name + " that are not in it yet", Hint: "close it there, then try again"}
		}
	}
	return nil
}

// withCopy reads from a copy: what is fingerprinted is what is read, and a reader
// that wants a place in the file system gets one wherever the bytes are kept.
func withCopy(name string, r io.Reader, read func(*os.File) error) error {
	f, err := os.CreateTemp("", "loamline-layer-*")
	if err != nil {
		return fmt.Errorf("%s: there is no room to read it in: %w", name, err)
	}
	defer os.Remove(f.Name())
	defer f.Close()
	if _, err := io.Copy(f, r); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return read(f)
}

// fromColumns picks what a feature is read for out of its columns, by their names
// in any case.
func (l *layerReader) fromColumns(all map[string]any, id any) attributes {
	low := make(map[string]any, len(all))
	for name, v := range all {
		low[strings.ToLower(name)] = plainValue(v)
	}
	a := attributes{utility: low["utility"], depth: low["depth_m"], depthFactor: 1}
	a.orDepth(low["depth_ft"], low["depth_in"], low["depth_cm"])
	if l.ref.NameColumn == "" {
		a.name = firstName(low["name"], low["line"], low["label"], low["id"], low["objectid"], low["fid"], id)
		return a
	}
	a.name, a.named = l.column(all)
	a.name = plainValue(a.name)
	return a
}

// plainValue is a column's value as JSON would have it.
func plainValue(v any) any {
	switch v := v.(type) {
	case int64:
		return float64(v)
	case []byte:
		return string(v)
	}
	return v
}
