package siteplan

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// directory is the first directory of a TIFF file: its tags, each a run of values
// somewhere in the file (TIFF 6.0, section 2).
type directory struct {
	file  []byte
	order binary.ByteOrder
	tags  map[uint16]tag
}

type tag struct {
	kind  uint16
	count int
	value []byte
}

// The kinds of values that are asked for, and the bytes of one.
const (
	kindASCII  = 2
	kindShort  = 3
	kindDouble = 12
)

var kindBytes = map[uint16]int{kindASCII: 1, kindShort: 2, kindDouble: 8}

// mostValues bounds a tag: the largest that is asked for holds a few dozen keys.
const mostValues = 1 << 16

var errCut = errors.New("the file ends in the middle of its tags")

// readDirectory reads those tags whose kind is asked for here.
func readDirectory(file []byte) (directory, error) {
	d := directory{file: file, tags: map[uint16]tag{}}
	if len(file) < 8 {
		return d, errCut
	}
	switch string(file[:2]) {
	case "II":
		d.order = binary.LittleEndian
	case "MM":
		d.order = binary.BigEndian
	default:
		return d, errors.New("the file is no TIFF")
	}
	at := int(d.order.Uint32(file[4:]))
	if at < 8 || at+2 > len(file) {
		return d, errCut
	}
	n := int(d.order.Uint16(file[at:]))
	for i := range n {
		e := at + 2 + 12*i
		if e+12 > len(file) {
			return d, errCut
		}
		number, t := d.order.Uint16(file[e:]), tag{kind: d.order.Uint16(file[e+2:]), count: int(d.order.Uint32(file[e+4:]))}
		size, known := kindBytes[t.kind]
		if !known || t.count > mostValues {
			continue
		}
		bytes := size * t.count
		from := e + 8
		if bytes > 4 {
			from = int(d.order.Uint32(file[e+8:]))
		}
		if from < 0 || from+bytes > len(file) {
			return d, fmt.Errorf("tag %d: %w", number, errCut)
		}
		t.value = file[from : from+bytes]
		d.tags[number] = t
	}
	return d, nil
}

// doubles are the values of a tag, none where it is not there or of another kind.
func (d directory) doubles(number uint16) []float64 {
	t := d.tags[number]
	if t.kind != kindDouble {
		return nil
	}
	out := make([]float64, t.count)
	for i := range out {
		out[i] = math.Float64frombits(d.order.Uint64(t.value[8*i:]))
	}
	return out
}

func (d directory) shorts(number uint16) []int {
	t := d.tags[number]
	if t.kind != kindShort {
		return nil
	}
	out := make([]int, t.count)
	for i := range out {
		out[i] = int(d.order.Uint16(t.value[2*i:]))
	}
	return out
}

func (d directory) text(number uint16) string {
	t := d.tags[number]
	if t.kind != kindASCII {
		return ""
	}
	return string(t.value)
}
