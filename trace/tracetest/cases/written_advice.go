package cases

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"loamline.example/geo"
)

// readAdvice reads an item of the check list: an object with its place, or a
// sentence that begins with it. frame says that it is about the frame of the
// positions and nothing else.
func (m *written) readAdvice(text json.RawMessage) (item told, frame bool, err error) {
	var o struct {
		Line        string
		FromM       *float64 `json:"from_m"`
		ToM         *float64 `json:"to_m"`
		Kind, Words string
	}
	if len(text) > 0 && text[0] == '{' {
		if err := json.Unmarshal(text, &o); err != nil {
			return told{}, false, fmt.Errorf("an item of the check list cannot be read: %w", err)
		}
		item = told{line: o.Line, words: o.Words, whole: o.FromM == nil && o.ToM == nil}
		if o.FromM != nil {
			item.fromM, item.toM = *o.FromM, *o.FromM
		}
		if o.ToM != nil {
			item.toM = *o.ToM
		}
		return item, o.Kind == "frame" || o.Kind == "datum", nil
	}
	if err := json.Unmarshal(text, &o.Words); err != nil {
		return told{}, false, fmt.Errorf("an item of the check list is neither object nor sentence: %w", err)
	}
	return m.fromSentence(o.Words), strings.HasPrefix(o.Words, "The datum of the positions"), nil
}

var (
	stretchWords = regexp.MustCompile(`^(.+?), (-?[\d.]+) (m|ft) to (-?[\d.]+) (?:m|ft): `)
	placeWords   = regexp.MustCompile(`^(.+?)(?:, | crosses .* at | comes within .* at )(-?[\d.]+) (m|ft): `)
	lineWords    = regexp.MustCompile(`^(.+?): `)
)

func (m *written) fromSentence(words string) told {
	metres := func(number, unit string) float64 {
		v, _ := strconv.ParseFloat(number, 64) // the pattern lets numbers through alone
		if unit == "ft" {
			return v * geo.FootM
		}
		return v
	}
	if p := stretchWords.FindStringSubmatch(words); p != nil {
		return told{line: p[1], fromM: metres(p[2], p[3]), toM: metres(p[4], p[3]), words: words}
	}
	if p := placeWords.FindStringSubmatch(words); p != nil {
		at := metres(p[2], p[3])
		return told{line: p[1], fromM: at, toM: at, words: words}
	}
	if p := lineWords.FindStringSubmatch(words); p != nil && !strings.Contains(p[1], ", ") {
		return told{line: p[1], whole: true, words: words}
	}
	return told{whole: true, words: words}
}
