package check

import (
	"bytes"
	"encoding/csv"
	"testing"
)

func CSVRows(t *testing.T, text []byte) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, name := range all[0] {
			m[name] = r[i]
		}
		out = append(out, m)
	}
	return out
}
