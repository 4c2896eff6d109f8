package pdfobject

import (
	"bytes"
	"errors"
	"fmt"
)

// The bounds of a file's table of objects.
const (
	mostSections = 1000
	mostObjects  = 2_000_000
)

// entry says where an object stands: at a byte of the file, or as one of several in a
// stream of objects.
type entry struct {
	free   bool
	offset int
	stream int // the stream's number, where offset is not asked for
	index  int
}

// readTable reads the table of objects from its newest section to its oldest (clause
// 7.5.4 to 7.5.8); what a newer one says stands.
func (f *File) readTable(at int) error {
	seen := map[int]bool{}
	for todo := []int{at}; len(todo) > 0; {
		at, todo = todo[0], todo[1:]
		if at < 0 || at >= len(f.b) || seen[at] || len(seen) > mostSections {
			return fmt.Errorf("its table of objects is not where it says (byte %d)", at)
		}
		seen[at] = true
		section, err := f.readSection(at)
		if err != nil {
			return err
		}
		if f.trailer == nil {
			f.trailer = section
		}
		for _, key := range []Name{"XRefStm", "Prev"} {
			if v, there := section[key].(float64); there {
				todo = append(todo, int(v))
			}
		}
	}
	return nil
}

func (f *File) readSection(at int) (Dict, error) {
	l := lexer{f.b, at}
	if l.skip(); l.starts("xref") {
		return f.readPlainSection(&l)
	}
	s, err := f.streamAt(at)
	if err != nil {
		return nil, err
	}
	return s.dict, f.readPackedSection(s)
}

// readPlainSection reads runs of entries and the trailer.
func (f *File) readPlainSection(l *lexer) (Dict, error) {
	for {
		v, err := l.value(0)
		if err != nil {
			return nil, err
		}
		if v == keyword("trailer") {
			break
		}
		n, err := l.value(0)
		first, count := whole(v), whole(n)
		if err != nil || first < 0 || count < 0 {
			return nil, errors.New("its table of objects cannot be read")
		}
		for i := range count {
			offset, err1 := l.value(0)
			_, err2 := l.value(0)
			kind, err3 := l.value(0)
			if err := errors.Join(err1, err2, err3); err != nil {
				return nil, err
			}
			if err := f.enter(first+i, entry{free: kind != keyword("n"), offset: whole(offset)}); err != nil {
				return nil, err
			}
		}
	}
	v, err := l.value(0)
	d, is := v.(Dict)
	if err != nil || !is {
		return nil, errors.New("its trailer cannot be read")
	}
	return d, nil
}

// readPackedSection reads the entries of a cross-reference stream (clause 7.5.8.3).
func (f *File) readPackedSection(s stream) error {
	rows, err := f.unpack(s)
	if err != nil {
		return err
	}
	w := numbers(s.dict["W"])
	if len(w) < 3 || w[0] < 0 || w[1] < 1 || w[2] < 0 || w[0] > 8 || w[1] > 8 || w[2] > 8 {
		return errors.New("its table of objects has rows of no known form")
	}
	runs := numbers(s.dict["Index"])
	if len(runs) == 0 {
		runs = []int{0, whole(s.dict["Size"])}
	}
	width := w[0] + w[1] + w[2]
	for ; len(runs) >= 2; runs = runs[2:] {
		for i := 0; i < runs[1] && len(rows) >= width; i++ {
			kind := 1
			if w[0] > 0 {
				kind = bigEndian(rows[:w[0]])
			}
			a, b := bigEndian(rows[w[0]:w[0]+w[1]]), bigEndian(rows[w[0]+w[1]:width])
			e := entry{free: kind != 1 && kind != 2, offset: a}
			if kind == 2 {
				e = entry{stream: a, index: b}
			}
			if err := f.enter(runs[0]+i, e); err != nil {
				return err
			}
			rows = rows[width:]
		}
	}
	return nil
}

func (f *File) enter(number int, e entry) error {
	if _, newer := f.table[number]; newer {
		return nil
	}
	if len(f.table) >= mostObjects {
		return fmt.Errorf("it has more than %d objects", mostObjects)
	}
	f.table[number] = e
	return nil
}

func bigEndian(b []byte) int {
	n := 0
	for _, c := range b {
		n = n<<8 | int(c)
	}
	return n
}

// whole is a whole number, or -1.
func whole(v any) int {
	n, is := v.(float64)
	if !is || n < 0 || n > 1<<40 || n != float64(int(n)) {
		return -1
	}
	return int(n)
}

func numbers(v any) []int {
	list, _ := v.([]any)
	var out []int
	for _, e := range list {
		out = append(out, whole(e))
	}
	return out
}

// tableStart is what the file's last lines say of where its table stands.
func tableStart(b []byte) (int, error) {
	at := bytes.LastIndex(b, []byte("startxref"))
	if at < 0 {
		return 0, errors.New("it has no table of objects; it may have been cut short")
	}
	l := lexer{b, at + len("startxref")}
	v, err := l.value(0)
	if n := whole(v); err == nil && n >= 0 {
		return n, nil
	}
	return 0, errors.New("it does not say where its table of objects stands")
}
