package jobfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/tables"
)

// BadRequest is a body that is not what is wanted, before anything is judged.
type BadRequest struct{ error }

func (b *BadRequest) Unwrap() error { return b.error }

func badRequest(format string, a ...any) error { return &BadRequest{fmt.Errorf(format, a...)} }

// With lays a request's JSON over settings: a key that it names is changed, and
// nothing else is. Lines go by their name, reference layers by their file and
// columns by the reader's name, never by their position in a list. The settings
// themselves are not touched, whatever comes of it.
func (s Settings) With(body []byte) (Settings, error) {
	if err := Decode(body, &Settings{}); err != nil {
		return s, err
	}
	var given map[string]json.RawMessage
	if err := json.Unmarshal(body, &given); err != nil {
		return s, badRequest("an object is required: %w", err)
	}
	next := s.Clone()
	rest := map[string]json.RawMessage{}
	for key, value := range given {
		if !slices.Contains(settingKeys, key) {
			return s, badRequest("the key %q is not known; the keys are %s", key, strings.Join(settingKeys, ", "))
		}
		if string(bytes.TrimSpace(value)) == "null" {
			return s, badRequest("%q is null, which says nothing: leave the key out to keep what it was", key)
		}
		var err error
		switch key {
		case "lines":
			next.Lines, err = mergeByName(next.Lines, value, "name", func(l *LineSettings) *string { return &l.Name })
		case "references":
			next.References, err = mergeByName(next.References, value, "file", func(r *ReferenceSettings) *string { return &r.File })
		case "columns":
			err = next.mergeColumns(value)
		default:
			rest[key] = value
		}
		if err != nil {
			return s, err
		}
	}
	text, err := json.Marshal(rest)
	if err != nil {
		return s, err
	}
	if err := json.Unmarshal(text, &next); err != nil {
		return s, badRequest("the settings cannot be read: %w", err)
	}
	return next, nil
}

// settingKeys are the keys of Settings in JSON.
var settingKeys = func() []string {
	var out []string
	t := reflect.TypeFor[Settings]()
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		out = append(out, name)
	}
	return out
}()

// mergeByName lays a list over another, element by element of the same name;
// what is new comes last. The result shares nothing with the list before.
func mergeByName[E any](list []E, text []byte, key string, name func(*E) *string) ([]E, error) {
	var given []json.RawMessage
	if err := json.Unmarshal(text, &given); err != nil {
		return nil, badRequest("a list is required: %w", err)
	}
	seen := map[string]bool{}
	for _, g := range given {
		var one E
		if err := json.Unmarshal(g, &one); err != nil {
			return nil, badRequest("an object is required: %w", err)
		}
		n := strings.TrimSpace(*name(&one))
		if n == "" {
			return nil, badRequest("an element of a list has no %q: lists are merged by it", key)
		}
		if seen[n] {
			return nil, badRequest("the list has %q twice", n)
		}
		seen[n] = true
		i := slices.IndexFunc(list, func(e E) bool { return *name(&e) == n })
		if i < 0 {
			list, i = append(list, *new(E)), len(list)
		}
		if err := json.Unmarshal(g, &list[i]); err != nil {
			return nil, badRequest("%s: %w", n, err)
		}
		*name(&list[i]) = n
	}
	return list, nil
}

// mergeColumns takes a request's columns in: what it says about a header
// replaces what the job file said about the same.
func (s *Settings) mergeColumns(text []byte) error {
	var given map[string]string
	if err := json.Unmarshal(text, &given); err != nil {
		return badRequest("columns: %w", err)
	}
	next := map[string]string{}
	for ours, theirs := range s.Columns {
		next[ours] = theirs
	}
	for ours, theirs := range given {
		for o, t := range next {
			if o != ours && tables.FoldHeader(t) == tables.FoldHeader(theirs) {
				if again, ok := given[o]; !ok || tables.FoldHeader(again) != tables.FoldHeader(theirs) {
					delete(next, o)
				}
			}
		}
		next[ours] = theirs
	}
	s.Columns = next
	return nil
}

// Decode reads one JSON value with no unknown member and nothing behind
// it.
func Decode(body []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(body))
	dec.DisallowUnknownFields()
	if err := dec.Decode(v); err != nil {
		return badRequest("the body is not the JSON that is expected here: %w", err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return badRequest("there is text after the JSON in the body")
	}
	return nil
}
