package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A table that is given twice says nothing more than once: lines, bands and findings are the
// same. Its copies were second witnesses of every coupling ("over 22 readings" where 11 were
// taken), and bands came out narrower.
func TestATableGivenTwiceIsNoSurer(t *testing.T) {
	dir := t.TempDir()
	table := filepath.Join("..", "..", "examples", "lantern-row", "lantern-row.csv")
	text, err := os.ReadFile(table)
	if err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(dir, "again.csv")
	if err := os.WriteFile(again, text, 0o666); err != nil {
		t.Fatal(err)
	}
	drawn := func(tables ...string) []string {
		args := append([]string{"loamline", "map", "--job", strings.TrimSuffix(table, ".csv") + ".toml", "--quiet", "--out", dir}, tables...)
		var errs bytes.Buffer
		if status := run(context.Background(), args, streams{in: strings.NewReader(""), out: &bytes.Buffer{}, err: &errs}); status != 0 {
			t.Fatalf("status %d: %s", status, &errs)
		}
		text, err := os.ReadFile(filepath.Join(dir, "lantern-row.geojson"))
		if err != nil {
			t.Fatal(err)
		}
		var m struct {
			Features []struct {
				Geometry   json.RawMessage
				Properties map[string]any
			}
		}
		if err := json.Unmarshal(text, &m); err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, f := range m.Features {
			if f.Properties["role"] == "reading" {
				continue
			}
			for _, counted := range []string{"readings", "used", "set_aside", "checks"} { // of all rows
				delete(f.Properties, counted)
			}
			p, err := json.Marshal(f.Properties)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, string(f.Geometry)+string(p))
		}
		return out
	}
	once, twice := drawn(table), drawn(table, again)
	if len(once) == 0 || !slices.Equal(once, twice) {
		for i := range min(len(once), len(twice)) {
			if once[i] != twice[i] {
				t.Errorf("once %.600s\ntwice %.600s", once[i], twice[i])
			}
		}
		t.Errorf("%d features once, %d twice", len(once), len(twice))
	}
}
