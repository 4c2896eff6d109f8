package pdfobject

import (
	"errors"
	"fmt"
)

// ErrProtected is a file that is encrypted, be it without a password.
var ErrProtected = errors.New("it is protected")

// mostHops is how many references may lead to one another.
const mostHops = 16

// File is a PDF whose objects can be asked for.
type File struct {
	b        []byte
	table    map[int]entry
	trailer  Dict
	held     map[int][]any // the values of streams of objects, as they were unpacked
	unpacked int           // bytes so far
}

// Open reads the table of objects.
func Open(b []byte) (*File, error) {
	f := &File{b: b, table: map[int]entry{}, held: map[int][]any{}}
	at, err := tableStart(b)
	if err != nil {
		return nil, err
	}
	if err := f.readTable(at); err != nil {
		return nil, err
	}
	if f.trailer["Encrypt"] != nil {
		return nil, ErrProtected
	}
	return f, nil
}

// Resolve follows a reference to what it stands for; an object that is not there is
// null (clause 7.3.10).
func (f *File) Resolve(v any) (any, error) {
	for range mostHops {
		r, is := v.(Ref)
		if !is {
			return v, nil
		}
		e, there := f.table[int(r)]
		if !there || e.free {
			return nil, nil
		}
		var err error
		if e.stream != 0 {
			v, err = f.packed(e)
		} else {
			var n int
			if n, v, _, err = f.objectAt(e.offset); err == nil && n != int(r) {
				err = fmt.Errorf("object %d stands where object %d is said to", n, int(r))
			}
		}
		if err != nil {
			return nil, err
		}
	}
	return nil, errors.New("its references lead to one another")
}

// packed is a value in a stream of objects (clause 7.5.7).
func (f *File) packed(e entry) (any, error) {
	values, done := f.held[e.stream]
	if !done {
		f.held[e.stream] = nil // a stream that needs itself finds nothing
		at, there := f.table[e.stream]
		if !there || at.free || at.stream != 0 {
			return nil, fmt.Errorf("the stream %d of its objects is not there", e.stream)
		}
		s, err := f.streamAt(at.offset)
		if err != nil {
			return nil, err
		}
		if values, err = f.unpackObjects(s); err != nil {
			return nil, err
		}
		f.held[e.stream] = values
	}
	if e.index >= len(values) {
		return nil, fmt.Errorf("the stream %d of its objects is too short", e.stream)
	}
	return values[e.index], nil
}

func (f *File) unpackObjects(s stream) ([]any, error) {
	b, err := f.unpack(s)
	if err != nil {
		return nil, err
	}
	n, first := whole(s.dict["N"]), whole(s.dict["First"])
	if n < 0 || first < 0 || first > len(b) || n > len(b) {
		return nil, errors.New("a stream of its objects does not say how many it holds")
	}
	head := lexer{b[:first], 0}
	out := make([]any, 0, n)
	for range n {
		_, err1 := head.value(0)
		at, err2 := head.value(0)
		offset := whole(at)
		if err := errors.Join(err1, err2); err != nil || offset < 0 || first+offset > len(b) {
			return nil, errors.New("the list of a stream of its objects cannot be read")
		}
		l := lexer{b, first + offset}
		v, err := l.value(0)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

// Dict is a value as a dictionary, nil where it is none.
func (f *File) Dict(v any) Dict {
	v, _ = f.Resolve(v)
	d, _ := v.(Dict)
	return d
}

// List is a value as an array, nil where it is none.
func (f *File) List(v any) []any {
	v, _ = f.Resolve(v)
	list, _ := v.([]any)
	return list
}

// Number is a value as a number.
func (f *File) Number(v any) (n float64, is bool) {
	v, _ = f.Resolve(v)
	n, is = v.(float64)
	return n, is
}

// Numbers are the numbers of an array, nil where one is none.
func (f *File) Numbers(v any) []float64 {
	var out []float64
	for _, e := range f.List(v) {
		n, is := f.Number(e)
		if !is {
			return nil
		}
		out = append(out, n)
	}
	return out
}

// Text is a value as a string or name, empty where it is neither.
func (f *File) Text(v any) string {
	v, _ = f.Resolve(v)
	switch t := v.(type) {
	case Text:
		return string(t)
	case Name:
		return string(t)
	}
	return ""
}
