package kml

import (
	"archive/zip"
	"io"

	"loamline.example/trace"
)

// iconFolder is where the icons lie in the archive, beside the document.
const iconFolder = "icons/"

// WriteKMZ writes the same document with its icons, and with the site plan if there is
// one, into one archive, the document first, as readers of KMZ take the first one that
// they find.
func WriteKMZ(w io.Writer, s *trace.Sheet) error {
	z := zip.NewWriter(w)
	// Headers without a time: a clock would change the bytes.
	f, err := z.CreateHeader(&zip.FileHeader{Name: "doc.kml", Method: zip.Deflate})
	if err != nil {
		return err
	}
	if err := write(f, s, ownAreas(s), true); err != nil {
		return err
	}
	for _, icon := range icons {
		f, err := z.CreateHeader(&zip.FileHeader{Name: iconFolder + icon.name + ".png", Method: zip.Store})
		if err != nil {
			return err
		}
		if _, err := f.Write(icon.png()); err != nil {
			return err
		}
	}
	if s.Underlay != nil {
		if err := writeOverlay(z, s); err != nil {
			return err
		}
	}
	return z.Close()
}
