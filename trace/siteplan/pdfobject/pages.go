package pdfobject

import (
	"errors"
	"fmt"
	"maps"
)

// inherited are what a page takes from the nodes above it (clause 7.7.3.4).
var inherited = []Name{"MediaBox", "CropBox", "Rotate"}

// Pages are the dictionaries of the pages in their order, with what they inherit.
func (f *File) Pages(most int) ([]Dict, error) {
	w := pageWalk{f: f, most: most, seen: map[Ref]bool{}}
	if err := w.add(f.Dict(f.trailer["Root"])["Pages"], Dict{}, 0); err != nil {
		return nil, err
	}
	if len(w.pages) == 0 {
		return nil, errors.New("it has no pages")
	}
	return w.pages, nil
}

type pageWalk struct {
	f     *File
	most  int
	seen  map[Ref]bool
	pages []Dict
}

func (w *pageWalk) add(v any, above Dict, depth int) error {
	if r, is := v.(Ref); is {
		if w.seen[r] {
			return errors.New("its pages lead to one another")
		}
		w.seen[r] = true
	}
	if depth > deepest {
		return errors.New("its pages are nested too deeply")
	}
	v, err := w.f.Resolve(v)
	if err != nil {
		return err
	}
	d, is := v.(Dict)
	if !is {
		return errors.New("its list of pages has a gap")
	}
	d = maps.Clone(d)
	for _, key := range inherited {
		if _, own := d[key]; !own && above[key] != nil {
			d[key] = above[key]
		}
	}
	kids, err := w.f.Resolve(d["Kids"])
	if err != nil {
		return err
	}
	if list, node := kids.([]any); node {
		for _, k := range list {
			if err := w.add(k, d, depth+1); err != nil {
				return err
			}
		}
		return nil
	}
	if len(w.pages) >= w.most {
		return fmt.Errorf("it has more than %d pages", w.most)
	}
	w.pages = append(w.pages, d)
	return nil
}
