package intake

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/setting"
	"loamline.example/trace/siteplan"
)

// underlay reads [underlay], the site plan to draw beneath the lines.
func (f *jobFile) underlay(v any) error {
	u := &f.job.Underlay
	if err := f.subtable("underlay", v, setters{"file": text(&u.File), "crs": text(&u.CRS), "datum": text(&u.Datum),
		"epoch": number(&u.Epoch), "opacity": number(&u.Opacity), "page": whole(&u.Page), "dpi": number(&u.DPI)}); err != nil {
		return err
	}
	if strings.TrimSpace(u.File) == "" {
		return f.problem("underlay", "the site plan is not named", "name the picture: file = \"plan.tif\"")
	}
	return nil
}

// whole is a setter of a count.
func whole(to *int) func(any) error {
	return func(v any) error {
		n, ok := v.(int64)
		if !ok || n < math.MinInt32 || n > math.MaxInt32 {
			return fmt.Errorf("a whole number without quotes is required, not %v", v)
		}
		*to = int(n)
		return nil
	}
}

// errLarge ends the reading of a picture that is larger than any that is read.
var errLarge = errors.New("too large")

// addUnderlay reads the site plan with the world files beside it.
func addUnderlay(ctx context.Context, s *trace.Source, file File) error {
	readings, err := setting.Frame(setting.DatedBy(s.Job, s.Readings))
	if err != nil {
		return err
	}
	f := siteplan.File{Name: file.Name}
	if f.Bytes, err = wholeFile(s, file, siteplan.MaxBytes); err != nil {
		return err
	}
	for _, w := range WorldFiles(file) {
		text, err := wholeFile(s, w, maxWorldBytes)
		if err != nil {
			return err
		}
		f.Worlds = append(f.Worlds, siteplan.World{Name: w.Name, Text: text})
	}
	if s.Underlay, err = siteplan.Read(ctx, f, s.Job.Underlay, readings.Epoch); err != nil {
		return err
	}
	corner := s.Underlay.Figures.Apply(0, 0)
	at, err := s.Underlay.Frame.Place(corner.X, corner.Y)
	if err != nil {
		return nil // refused where it is laid beneath the readings, with the figures
	}
	s.Underlay.DoubtM, s.Underlay.DoubtWhy = doubtOf(s.Underlay.Frame, readings, at)
	if s.Underlay.DoubtM > 0 && !s.Underlay.Frame.Stated {
		s.Problems = append(s.Problems, trace.Problem{File: file.Name, Field: "underlay", Warn: true,
			Cause: fmt.Sprintf("the frame of this site plan is not stated, and the readings are in %s: it may lie %.1f m off for that reason alone", readings.Datum.Name, s.Underlay.DoubtM),
			Hint:  "say it in [underlay]: datum = \"" + readings.Datum.Name + "\", or datum = \"WGS84\" if that is what it is"})
	}
	return nil
}

// maxWorldBytes bounds a world file; a real one has six lines.
const maxWorldBytes = 4096

// WorldFiles are those that lie beside a picture under its name.
func WorldFiles(picture File) []File {
	var out []File
	for _, ending := range siteplan.Endings(filepath.Ext(picture.Name)) {
		if picture.Beside == nil {
			break
		}
		if w, there := picture.Beside(ending); there {
			out = append(out, w)
		}
	}
	return out
}

// wholeFile reads and lists a file of the site plan, if it is not longer than that.
func wholeFile(s *trace.Source, f File, most int64) (all []byte, err error) {
	err = fingerprint(s, f, trace.InputUnderlay, func(r io.Reader) error {
		if all, err = io.ReadAll(io.LimitReader(r, most+1)); err == nil && int64(len(all)) > most {
			return errLarge
		}
		return err
	})
	if errors.Is(err, errLarge) {
		size := fmt.Sprintf("%d MB", most>>20)
		if most < 1<<20 {
			size = fmt.Sprintf("%d bytes", most)
		}
		return nil, &trace.Problem{File: f.Name, Field: "underlay", Cause: "the file is longer than " + size,
			Hint: "cut out the part of the site plan around the job, or save it with fewer pixels"}
	}
	return all, err
}
