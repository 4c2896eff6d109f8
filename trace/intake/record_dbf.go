package intake

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// dbf reads the table of a Shapefile row by row: dBASE level 3, as ESRI's white
// paper requires of it ("ESRI Shapefile Technical Description", July 1998, page
// 25). A nil dbf has rows without columns.
type dbf struct {
	r      *bufio.Reader
	fields []dbfField
	row    []byte
	left   uint32
	text   func([]byte) string
}

type dbfField struct {
	name     string
	kind     byte // C text, N and F numbers, others as text
	from, to int
}

func newDBF(r, cpg io.Reader) (*dbf, error) {
	if r == nil {
		return nil, nil
	}
	var h [32]byte
	t := &dbf{r: bufio.NewReader(r)}
	if _, err := io.ReadFull(t.r, h[:]); err != nil {
		return nil, errors.New("its header is cut short")
	}
	t.left = binary.LittleEndian.Uint32(h[4:])
	header, row := int(binary.LittleEndian.Uint16(h[8:])), int(binary.LittleEndian.Uint16(h[10:]))
	if header < 33 || row < 1 {
		return nil, errors.New("its header is no table's")
	}
	rest := make([]byte, header-32)
	if _, err := io.ReadFull(t.r, rest); err != nil {
		return nil, errors.New("its header is cut short")
	}
	var err error
	if t.text, err = dbfText(cpg, h[29]); err != nil {
		return nil, err
	}
	at := 1
	for len(rest) >= 32 && rest[0] != 0x0d {
		name, _, _ := bytes.Cut(rest[:11], []byte{0})
		f := dbfField{name: t.text(name), kind: rest[11], from: at, to: at + int(rest[16])}
		if f.to > row {
			return nil, fmt.Errorf("its column %q lies outside its rows", f.name)
		}
		t.fields = append(t.fields, f)
		at, rest = f.to, rest[32:]
	}
	t.row = make([]byte, row)
	return t, nil
}

// next reads a row.
func (t *dbf) next() (map[string]any, error) {
	if t == nil {
		return nil, nil
	}
	if t.left == 0 {
		return nil, errors.New("the table has fewer rows than there are shapes")
	}
	t.left--
	if _, err := io.ReadFull(t.r, t.row); err != nil {
		return nil, errors.New("the table is cut short")
	}
	out := make(map[string]any, len(t.fields))
	for _, f := range t.fields {
		cell := bytes.TrimRight(t.row[f.from:f.to], " \x00")
		text := strings.TrimSpace(t.text(cell))
		if out[f.name] = any(text); f.kind == 'N' || f.kind == 'F' {
			out[f.name] = nil
			if v, err := strconv.ParseFloat(text, 64); err == nil {
				out[f.name] = v
			}
		}
		if text == "" {
			out[f.name] = nil
		}
	}
	return out, nil
}

// dbfPages are the code pages that a .cpg or the table's own mark may name.
var dbfPages = map[string]*charmap.Charmap{
	"1252": charmap.Windows1252, "ANSI1252": charmap.Windows1252, "CP1252": charmap.Windows1252, "WINDOWS1252": charmap.Windows1252,
	"88591": charmap.ISO8859_1, "ISO88591": charmap.ISO8859_1, "LATIN1": charmap.ISO8859_1, "ISO885915": charmap.ISO8859_15, "885915": charmap.ISO8859_15,
	"ISO88592": charmap.ISO8859_2, "88592": charmap.ISO8859_2, "1250": charmap.Windows1250, "CP1250": charmap.Windows1250, "WINDOWS1250": charmap.Windows1250,
	"1251": charmap.Windows1251, "CP1251": charmap.Windows1251, "WINDOWS1251": charmap.Windows1251,
	"437": charmap.CodePage437, "CP437": charmap.CodePage437, "850": charmap.CodePage850, "CP850": charmap.CodePage850, "OEM850": charmap.CodePage850,
}

// dbfMarks are the marks of the table's header (byte 29); from memory.
var dbfMarks = map[byte]*charmap.Charmap{0x01: charmap.CodePage437, 0x02: charmap.CodePage850, 0x03: charmap.Windows1252, 0x57: charmap.Windows1252, 0xc8: charmap.Windows1250, 0xc9: charmap.Windows1251}

// dbfText chooses how the table's bytes are read. Without a word on it, what is
// UTF-8 is read so, and all else as Windows-1252, which is what most programs wrote.
func dbfText(cpg io.Reader, mark byte) (func([]byte) string, error) {
	decode := func(page *charmap.Charmap) func([]byte) string {
		return func(b []byte) string {
			out, _ := page.NewDecoder().Bytes(b) // these pages read any byte
			return string(out)
		}
	}
	page := dbfMarks[mark]
	if cpg != nil {
		text, err := io.ReadAll(io.LimitReader(cpg, 256))
		if err != nil {
			return nil, err
		}
		name := strings.ToUpper(strings.NewReplacer("-", "", "_", "", " ", "", "\ufeff", "").Replace(strings.TrimSpace(string(text))))
		switch page = dbfPages[name]; {
		case name == "UTF8" || name == "65001" || name == "":
			page = nil
		case page == nil:
			return nil, fmt.Errorf("its code page %q (.cpg) is not known; save it in UTF-8", name)
		default:
			return decode(page), nil
		}
	}
	if page == nil {
		page = charmap.Windows1252
	}
	other := decode(page)
	return func(b []byte) string {
		if utf8.Valid(b) {
			return string(b)
		}
		return other(b)
	}, nil
}
