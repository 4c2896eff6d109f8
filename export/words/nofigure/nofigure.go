// Package nofigure keeps figures that are not known out of sentences.
package nofigure

import (
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"
)

// The words for a figure that is none.
const (
	unknownDistance = "an unknown distance"
	unknownFigure   = "an unknown figure"
)

var (
	noDistance = regexp.MustCompile(`[+-]?(?:NaN|Inf) (?:m|cm|ft|in)\b`)
	noFigure   = regexp.MustCompile(`[+-]?(?:NaN|Inf)\b`)
)

// Say is a sentence in which no figure of what it tells is printed that is not
// known. Most sentences that may lack a figure have a form without it; this is for
// whatever does not expect to. A name that reads like a figure stands as it is.
func Say(s string, told any) string {
	if !strings.Contains(s, "NaN") && !strings.Contains(s, "Inf") || !noFigure.MatchString(s) {
		return s // nearly always told without the expression
	}
	lacks, names := false, []string{}
	walk(reflect.ValueOf(told), func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			lacks = lacks || math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0)
		case reflect.String:
			if noFigure.MatchString(v.String()) {
				names = append(names, v.String())
			}
		}
	})
	if !lacks {
		return s
	}
	for i, n := range names {
		s = strings.ReplaceAll(s, n, held(i))
	}
	s = noFigure.ReplaceAllString(noDistance.ReplaceAllString(s, unknownDistance), unknownFigure)
	for i, n := range names {
		s = strings.ReplaceAll(s, held(i), n)
	}
	return s
}

// held stands for a name for a while.
func held(i int) string { return "\x00" + strconv.Itoa(i) + "\x00" }

// walk visits what a value holds.
func walk(v reflect.Value, visit func(reflect.Value)) {
	switch v.Kind() {
	case reflect.Interface, reflect.Pointer:
		if !v.IsNil() {
			walk(v.Elem(), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(v.Field(i), visit)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			walk(v.Index(i), visit)
		}
	default:
		visit(v)
	}
}
