package export

import (
	"bytes"
	"os"
	"testing"

	"loamline/export/internal/sample"
)

func TestPDFLook(t *testing.T) {
	var b bytes.Buffer
	if err := PDF(&b, sample.Sheet(), PDFOptions{}); err != nil {
		t.Fatal(err)
	}
	os.WriteFile(os.Getenv("PDFOUT"), b.Bytes(), 0o644)
}
