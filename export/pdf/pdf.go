package pdf

import (
	"io"
	"time"

	"loamline.example/export/internal/paper"
	"loamline.example/export/tongue"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// Options chooses the sheet; its zero value lets the job decide.
type Options struct {
	Paper  Paper   // size, always landscape; "" takes the smaller size of the job's units where few sheets do
	Sheets string  // trace.SheetsCrew, SheetsFull or SheetsBoth; "" lets the job decide, which prints both where it says nothing
	Scale  float64 // denominator of the strips' scale, 200 for 1:200; 0 takes a round one

	asked func() error // as in sheetSet
}

// Write prints a sheet: first what a crew keeps in the glove box, on one page
// where that has room, with the table of points to stake out; then a set of
// plan and profile drawings: an overview with
// the key plan where there is more than one drawing, a strip of plan with its
// profile below for every stretch of every line, and notes with the evidence.
// Strips are true to a round scale in plan and along the profile. All pages are
// landscape and carry the cautions between plan and profile, where they cannot
// be cut off.
//
// The file is written whole or not at all, has its fonts embedded, and is the
// same for the same sheet: both dates in it are the job's.
//
// Nothing is written before all is drawn, which can take a minute: a writer that takes
// nothing any more is asked with nothing on the way, and ends the drawing.
func Write(w io.Writer, s *trace.Sheet, opt Options) (err error) {
	opt.asked = func() error { _, err := w.Write(nil); return err }
	defer stopsHere(&err)
	set, err := newSheetSet(s, opt)
	if err != nil {
		return err
	}
	d := newDrafter(set)
	stake := d.stakePages()
	if set.prints(trace.SheetsFull) {
		d.notes = newNoteBook(set, d.pencil)
		set.before.set = set.pages()
	}
	if set.prints(trace.SheetsCrew) {
		if err := d.crew(); err != nil {
			return err
		}
		d.stakeOut(stake, set.before.crew+1)
	}
	if set.prints(trace.SheetsFull) {
		for i := range set.sheets {
			d.goOn()
			d.sheet(&set.sheets[i])
		}
		if !set.prints(trace.SheetsCrew) {
			d.stakeOut(stake, set.pages()+1)
		}
	}
	d.goOn() // to put it all together takes a while, and cannot be ended in its middle
	return d.c.Write(w)
}

func pdfInfo(s *trace.Sheet, by *tongue.Speaker) paper.Info {
	title := s.Name
	if s.Job.Ticket != "" {
		title += ", ticket " + s.Job.Ticket
	}
	// A job without a date gets a fixed one: a clock would change the bytes.
	date := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	if t, err := time.Parse("2006-01-02", words.JobDate(s)); err == nil {
		date = t
	}
	return paper.Info{
		Title: title, Author: s.Job.Locator, Subject: by.Say("Plan and profile of traced lines.") + " " + s.Job.Area,
		Creator: "loamline " + s.Version, Date: date,
	}
}
