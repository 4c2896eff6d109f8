package jobfile

import (
	"errors"
	"reflect"
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/trace"
)

// maxWrong is how many mistakes are told at once: more help nobody.
const maxWrong = 50

// Wrong lists everything that is wrong with the settings. A job file is read up
// to its first mistake; here each one is taken out, as if nothing had been said,
// and the rest is read again.
func (s Settings) Wrong() []problem.Problem {
	rest := s.Clone()
	var out []problem.Problem
	for len(out) < maxWrong {
		_, err := rest.Job()
		if err == nil {
			return out
		}
		var p *trace.Problem
		if !errors.As(err, &p) {
			return append(out, problem.Of(err))
		}
		out = append(out, problem.Stored(*p))
		if !rest.unsay(p.Field) {
			return out
		}
	}
	return out
}

// unsay makes one key what it is where nothing is said, and reports whether that
// changed anything. A key of a list's element that the rest of the element hangs
// on takes the element away in place, so that the others keep their number.
func (s *Settings) unsay(key string) bool {
	parts := strings.Split(key, ".")
	if len(parts) >= 2 {
		i, err := strconv.Atoi(parts[1])
		if err == nil && (len(parts) == 2 || parts[2] == "name" || parts[2] == "file" || parts[2] == "position") {
			return s.unsayElement(parts[0], i)
		}
	}
	now, plain := reflect.ValueOf(s).Elem(), reflect.ValueOf(DefaultSettings())
	for _, part := range parts {
		if now.Kind() == reflect.Slice {
			i, err := strconv.Atoi(part)
			if err != nil || i < 0 || i >= now.Len() {
				return false
			}
			now = now.Index(i)
			plain = reflect.Zero(now.Type())
			continue
		}
		if now.Kind() != reflect.Struct {
			return false
		}
		k := fieldByKey(now.Type(), part)
		if k < 0 {
			return false
		}
		now, plain = now.Field(k), plain.Field(k)
	}
	if reflect.DeepEqual(now.Interface(), plain.Interface()) {
		return false
	}
	now.Set(plain)
	return true
}

// unsayElement puts an element that nothing is wrong with in another's place.
func (s *Settings) unsayElement(list string, i int) bool {
	name := "\u2060" + strconv.Itoa(i) // like no name of theirs
	switch {
	case list == "line" && i < len(s.Lines) && s.Lines[i].Name != name:
		s.Lines[i] = LineSettings{Name: name}
	case list == "reference" && i < len(s.References) && s.References[i].File != name:
		s.References[i] = ReferenceSettings{File: name}
	case list == "feature" && i < len(s.Features) && s.Features[i].Name != name:
		s.Features[i] = FeatureSettings{Name: name, Position: []any{0.0, 0.0}}
	default:
		return false
	}
	return true
}

// fieldByKey is the field of a struct that a job file's key fills, -1 where there
// is none.
func fieldByKey(t reflect.Type, key string) int {
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("toml"), ","); name == key {
			return i
		}
	}
	return -1
}

// Check refuses settings with everything that is wrong with them.
func (s Settings) Check() error {
	if wrong := s.Wrong(); len(wrong) > 0 {
		return &problem.Refused{Problems: wrong}
	}
	return nil
}
