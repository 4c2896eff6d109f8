package page

import (
	"fmt"
	"html/template"
	"io"

	"loamline.example/export/tongue"
	"loamline.example/trace"
)

// Options are what a page can be asked for beyond the sheet. The zero value
// is a page that never asks the network for anything.
type Options struct {
	// Tiles is a background map, fetched by the reader's browser when it has a
	// network. Its zero value is none.
	Tiles TileSource
}

// Write writes a sheet as one HTML file that needs nothing else: plan, profile
// and lists in one, with everything embedded, so that it opens from a phone's
// storage without a network. The lists stand in the file as plain HTML and can
// be read where scripts do not run.
//
// Texts are in the job's language, or in both of its languages with a button that
// changes them, and are shown in metres or in feet and inches, as the reader chooses;
// geometry goes in as metres of the sheet's plane, to the millimetre. A
// Content-Security-Policy in the file forbids every script and style but its
// own two, and every connection but to the tile source that was named. The same
// sheet gives the same bytes.
//
// Nothing is written before all is laid out: a writer that takes nothing any more is
// asked with nothing before every line, and ends it.
func Write(w io.Writer, s *trace.Sheet, opt Options) error {
	tiles, err := opt.Tiles.Check()
	if err != nil {
		return err
	}
	v := voice{tongue.For(s)}
	data, err := pageData(s, tiles, v, w)
	if err != nil {
		return fmt.Errorf("page of %s: %w", s.Name, err)
	}
	p, err := newPageLists(s, w)
	if err != nil {
		return fmt.Errorf("page of %s: %w", s.Name, err)
	}
	p.Style = template.CSS(pageStyle())
	p.Script = template.JS(pageScript())
	p.Data = template.JS(data)
	p.Policy = pagePolicy(tiles)
	p.Tiles = tiles
	words, err := v.template()
	if err != nil {
		return fmt.Errorf("page of %s: %w", s.Name, err)
	}
	if err := words.Execute(w, p); err != nil { // as it is made, so that it is stopped in its middle
		return fmt.Errorf("page of %s: %w", s.Name, err)
	}
	return nil
}
