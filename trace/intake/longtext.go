package intake

import (
	"crypto/sha256"
	"fmt"
	"strings"

	"loamline.example/trace/setting"
)

// bounded returns a text of its own, cut where it is longer than anything that
// reads it can carry. A cut line's name keeps a mark of the whole one, so that
// two lines stay two.
func (t *tableReader) bounded(c column, i int, text string) string {
	most := setting.MaxNameBytes
	if c.field == "note" {
		most = setting.MaxNoteBytes
	}
	if len(text) <= most {
		return strings.Clone(text)
	}
	cut := cutText(text, most, c.field == "line")
	p := t.at(i, text, fmt.Sprintf("a text of %d bytes, where %d are the most", len(text), most), "the row is used and the text is cut; shorten it in the file")
	p.Field = t.table.Columns[i].Header
	t.warn(p)
	return cut
}

// cutText cuts a text to a length in bytes, between characters.
func cutText(text string, most int, marked bool) string {
	end := "…"
	if marked {
		end = fmt.Sprintf("… %.6x", sha256.Sum256([]byte(text)))
	}
	return strings.ToValidUTF8(text[:most-len(end)], "") + end
}
