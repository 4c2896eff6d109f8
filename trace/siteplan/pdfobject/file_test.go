package pdfobject

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// deflated packs bytes, in rows with the predictor Up of PNG where there are columns.
func deflated(t testing.TB, b []byte, columns int) []byte {
	t.Helper()
	if columns > 0 {
		above, out := make([]byte, columns), []byte{}
		for ; len(b) >= columns; b = b[columns:] {
			out = append(out, 2)
			for i := range columns {
				out = append(out, b[i]-above[i])
			}
			above = b[:columns]
		}
		b = out
	}
	var out bytes.Buffer
	z := zlib.NewWriter(&out)
	if _, err := z.Write(b); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// packedPDF is a file as most programs write it since PDF 1.5: the objects in a stream,
// the table in another with a predictor.
func packedPDF(t testing.TB) []byte {
	t.Helper()
	objects := []string{
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [ 3 0 R ] /Count 1 /MediaBox [ 0 0 300 200 ] /Rotate 90 >>",
		"<< /Type /Page /Parent 2 0 R /CropBox [ 10 20 290 180 ] /VP [ 4 0 R ] >>",
		"<< /N#61me (a \\(b\\) c) /GPTS [ 44.1000000012 -71.5 -.25 +3. ] /Hex <48 69> /No null /Yes true >>",
	}
	var head, body string
	for i, o := range objects {
		head += fmt.Sprintf("%d %d ", i+1, len(body))
		body += o + " "
	}
	held := deflated(t, []byte(head+body), 0)
	out := []byte("%PDF-1.5\n% a comment\n")
	at := len(out)
	out = fmt.Appendf(out, "5 0 obj\n<< /Type /ObjStm /N 4 /First %d /Filter /FlateDecode /Length 6 0 R >>\nstream\r\n%s\nendstream\nendobj\n", len(head), held)
	length := len(out)
	out = fmt.Appendf(out, "6 0 obj\n%d\nendobj\n", len(held))
	table := len(out)
	var rows []byte
	for i := range 4 {
		rows = append(rows, 2, 0, 5, byte(i))
	}
	rows = append(rows, 1, byte(at>>8), byte(at), 0, 1, byte(length>>8), byte(length), 0)
	packed := deflated(t, rows, 4)
	return fmt.Appendf(out, "7 0 obj\n<< /Type /XRef /Size 8 /Index [ 1 6 ] /W [ 1 2 1 ] /Root 1 0 R /Filter [ /FlateDecode ] /DecodeParms [ << /Predictor 12 /Columns 4 >> ] /Length %d >>\nstream\n%s\nendstream\nendobj\nstartxref\n%d\n%%%%EOF\n", len(packed), packed, table)
}

func TestPackedObjects(t *testing.T) {
	f, err := Open(packedPDF(t))
	if err != nil {
		t.Fatal(err)
	}
	pages, err := f.Pages(10)
	if err != nil || len(pages) != 1 {
		t.Fatal(pages, err)
	}
	if got := fmt.Sprint(f.Numbers(pages[0]["MediaBox"]), f.Numbers(pages[0]["CropBox"])); got != "[0 0 300 200] [10 20 290 180]" {
		t.Error(got)
	}
	if n, is := f.Number(pages[0]["Rotate"]); !is || n != 90 {
		t.Error("the turn is not inherited:", n)
	}
	v := f.Dict(f.List(pages[0]["VP"])[0])
	if f.Text(v["Name"]) != "a (b) c" || f.Text(v["Hex"]) != "Hi" || v["No"] != nil || v["Yes"] != true {
		t.Error(v)
	}
	if got := f.Numbers(v["GPTS"]); len(got) != 4 || got[0] != 44.1000000012 || got[2] != -0.25 || got[3] != 3 {
		t.Error(got)
	}
}

// plainPDF is a file with a plain table, of objects from number 1 on.
func plainPDF(trailer string, objects ...string) []byte {
	out := []byte("%PDF-1.4\n")
	table := "xref\n0 1\n0000000000 65535 f \n"
	for i, o := range objects {
		table += fmt.Sprintf("%d 1\n%010d 00000 n \n", i+1, len(out))
		out = fmt.Appendf(out, "%d 0 obj %s endobj\n", i+1, o)
	}
	return fmt.Appendf(out, "%strailer << /Root 1 0 R %s >>\nstartxref\n%d\n%%%%EOF\n", table, trailer, len(out))
}

// Files that would lead a reader astray end in words.
func TestHostileFiles(t *testing.T) {
	bomb := deflated(t, make([]byte, mostUnpacked+1), 0)
	deep := strings.Repeat("[ ", 100_000)
	many := strings.Repeat("<< /Type /Page >> ", 30)
	for name, c := range map[string]struct {
		b    []byte
		want string
	}{
		"pages that hold themselves":  {plainPDF("", "<< /Pages 2 0 R >>", "<< /Kids [ 2 0 R ] >>"), "lead to one another"},
		"references in a ring":        {plainPDF("", "<< /Pages 2 0 R >>", "3 0 R", "2 0 R"), "lead to one another"},
		"a table that leads to it":    {plainPDF("/Prev 30", "<< >>"), "table of objects"},
		"nested arrays":               {plainPDF("", "<< /Pages 2 0 R >>", deep), "nested too deeply"},
		"too many pages":              {plainPDF("", "<< /Pages 2 0 R >>", "<< /Kids [ "+many+"] >>"), "more than 20 pages"},
		"no pages":                    {plainPDF("", "<< /Pages 2 0 R >>", "<< /Kids [ ] >>"), "no pages"},
		"a number for a page":         {plainPDF("", "<< /Pages 2 0 R >>", "<< /Kids [ 7 ] >>"), "a gap"},
		"a table that unpacks to all": {fmt.Appendf(nil, "%%PDF-1.5\n1 0 obj << /W [ 1 2 1 ] /Filter /FlateDecode /Length %d >> stream\n%s endstream startxref 9", len(bomb), bomb), "unpack to more than 64 MB"},
		"a table of no rows":          {[]byte("%PDF-1.5\n1 0 obj << /W [ 0 0 0 ] /Size 999999999 /Length 0 >> stream\n endstream startxref 9"), "rows of no known form"},
		"a length beyond the end":     {[]byte("%PDF-1.5\n1 0 obj << /W [ 1 2 1 ] /Length 99999 >> stream\n endstream startxref 9"), "no length"},
		"protected":                   {plainPDF("/Encrypt 2 0 R", "<< >>"), "protected"},
		"a table beyond the end":      {[]byte("%PDF-1.4\nstartxref\n99999\n"), "not where it says"},
		"nothing":                     {nil, "no table"},
	} {
		f, err := Open(c.b)
		if err == nil {
			_, err = f.Pages(20)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	if _, err := Open(plainPDF("/Encrypt 2 0 R", "<< >>")); !errors.Is(err, ErrProtected) {
		t.Error(err)
	}
}

// Whatever stands in a file, asking it ends.
func FuzzOpen(f *testing.F) {
	f.Add(packedPDF(f))
	f.Add(plainPDF("", "<< /Pages 2 0 R >>", "<< /Kids [ 3 0 R ] >>", "<< /VP [ << /Measure 4 0 R >> ] >>", "[ 1 2 ]"))
	f.Fuzz(func(t *testing.T, b []byte) {
		o, err := Open(b)
		if err != nil {
			return
		}
		pages, err := o.Pages(100)
		if err != nil {
			return
		}
		for _, p := range pages {
			for _, v := range o.List(p["VP"]) {
				o.Numbers(o.Dict(v)["BBox"])
				o.Text(o.Dict(v)["Name"])
			}
		}
	})
}

// Bytes of a good file changed at random, a thousand times over, as a disk or a line
// might.
func TestAlteredFiles(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	for _, good := range [][]byte{packedPDF(t), plainPDF("", "<< /Pages 2 0 R >>", "<< /Kids [ 3 0 R ] >>", "<< /VP [ << /Measure 4 0 R >> ] >>", "[ 1 2 ]")} {
		for range 1000 {
			b := bytes.Clone(good)
			for range 1 + chance.IntN(4) {
				b[chance.IntN(len(b))] = byte(chance.IntN(256))
			}
			if f, err := Open(b); err == nil {
				_, _ = f.Pages(100)
			}
		}
	}
}
