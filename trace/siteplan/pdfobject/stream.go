package pdfobject

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
)

// mostUnpacked bounds what a file may unpack to in all; its table and the dictionaries
// of a plan are far smaller.
const mostUnpacked = 64 << 20

// stream is a dictionary with bytes behind it.
type stream struct {
	dict Dict
	data []byte // as they stand in the file
}

// objectAt reads "12 0 obj" and the value behind it.
func (f *File) objectAt(at int) (number int, v any, l lexer, err error) {
	if at < 0 || at >= len(f.b) {
		return 0, nil, l, fmt.Errorf("an object is said to stand at byte %d, beyond the end", at)
	}
	l = lexer{f.b, at}
	n, err1 := l.value(0)
	_, err2 := l.value(0)
	word, err3 := l.value(0)
	if err := errors.Join(err1, err2, err3); err != nil || word != keyword("obj") {
		return 0, nil, l, fmt.Errorf("there is no object at byte %d", at)
	}
	v, err = l.value(0)
	return whole(n), v, l, err
}

// streamAt reads the stream at a byte of the file.
func (f *File) streamAt(at int) (stream, error) {
	_, v, l, err := f.objectAt(at)
	if err != nil {
		return stream{}, err
	}
	d, is := v.(Dict)
	if l.skip(); !is || !l.starts("stream") {
		return stream{}, fmt.Errorf("there is no stream at byte %d", at)
	}
	if !l.starts("\r\n") {
		l.starts("\n")
	}
	length, err := f.Resolve(d["Length"])
	n := whole(length)
	if err != nil || n < 0 || n > len(f.b)-l.at {
		return stream{}, fmt.Errorf("the stream at byte %d has no length", at)
	}
	return stream{d, f.b[l.at : l.at+n]}, nil
}

// unpack is what a stream holds: as it stands, or deflated, with or without the
// predictors of PNG (clause 7.4.4).
func (f *File) unpack(s stream) ([]byte, error) {
	filter, params := single(s.dict["Filter"]), single(s.dict["DecodeParms"])
	if filter == nil {
		return s.data, nil
	}
	if filter != Name("FlateDecode") {
		return nil, fmt.Errorf("its objects are packed by %v, which is not read", filter)
	}
	z, err := zlib.NewReader(bytes.NewReader(s.data))
	if err != nil {
		return nil, fmt.Errorf("its objects cannot be unpacked: %w", err)
	}
	left := mostUnpacked - f.unpacked
	out, err := io.ReadAll(io.LimitReader(z, int64(left)+1))
	f.unpacked += len(out)
	switch {
	case len(out) > left:
		return nil, fmt.Errorf("its objects unpack to more than %d MB", mostUnpacked>>20)
	case err != nil && !errors.Is(err, io.ErrUnexpectedEOF):
		return nil, fmt.Errorf("its objects cannot be unpacked: %w", err)
	}
	d, _ := params.(Dict)
	switch p := whole(d["Predictor"]); {
	case p <= 1:
		return out, nil
	case p < 10 || whole(d["Colors"]) > 1 || whole(d["BitsPerComponent"]) > 8:
		return nil, fmt.Errorf("its objects are packed with predictor %d, which is not read", p)
	}
	return unpredict(out, max(1, whole(d["Columns"])))
}

// single is the only one of a list.
func single(v any) any {
	if list, is := v.([]any); is && len(list) == 1 {
		return list[0]
	}
	return v
}

// unpredict undoes the predictors of PNG (W3C, Portable Network Graphics, clause 9) for
// samples of one byte.
func unpredict(in []byte, columns int) ([]byte, error) {
	if columns > len(in) {
		return nil, errors.New("the rows of its table are longer than the table")
	}
	above, out := make([]byte, columns), make([]byte, 0, len(in))
	for ; len(in) > columns; in = in[columns+1:] {
		row := in[1 : columns+1]
		for i := range row {
			left, corner := byte(0), byte(0)
			if i > 0 {
				left, corner = row[i-1], above[i-1]
			}
			switch in[0] {
			case 0:
			case 1:
				row[i] += left
			case 2:
				row[i] += above[i]
			case 3:
				row[i] += byte((int(left) + int(above[i])) / 2)
			case 4:
				row[i] += paeth(int(left), int(above[i]), int(corner))
			default:
				return nil, fmt.Errorf("a row of its table has the predictor %d", in[0])
			}
		}
		above, out = row, append(out, row...)
	}
	return out, nil
}

func paeth(a, b, c int) byte {
	away := func(v int) int { return max(a+b-c-v, v-a-b+c) }
	switch {
	case away(a) <= away(b) && away(a) <= away(c):
		return byte(a)
	case away(b) <= away(c):
		return byte(b)
	}
	return byte(c)
}
