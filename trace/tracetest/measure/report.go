package measure

import (
	"context"
	"io"
)

// Report is everything that was measured.
type Report struct {
	Options Options
	Fit     []FitRow
	Bleed   []BleedRow
}

// All measures everything that the options ask for.
func All(ctx context.Context, o Options) (Report, error) {
	r := Report{Options: o}
	var err error
	if !o.BleedOnly {
		if r.Fit, err = Fit(ctx, o); err != nil {
			return r, err
		}
	}
	if !o.FitOnly {
		r.Bleed, err = Bleed(ctx, o)
	}
	return r, err
}

// preamble says what this is and how to make it again.
func (t *table) preamble(o Options) {
	t.printf("# Measured against simulated truth\n\n")
	t.printf("Made by `go run ./cmd/loamline accuracy --seeds %d --first-seed %d --out testdata/accuracy.md`; ", o.Seeds, o.FirstSeed)
	t.printf("the same command gives the same bytes. Each family of either world (`loamline simulate --world second --list`) gives %d jobs. ", o.Seeds)
	t.printf("Seeds from %d on are for these tables alone: nothing in the program is tuned on them. ", UnseenSeed)
	t.printf("Every job goes through the whole program, from the bytes of its files to the finished sheet, ")
	t.printf("in the layout, units and columns that its seed draws. It takes half an hour or so on two cores.\n\n")
	t.printf("The truth comes from two simulators, the first world and the second, that share the form of files and truth and nothing else: ")
	t.printf("each has its own physics code, habits of locators and receivers, shapes and faults, and the second draws every condition from wide ranges. ")
	t.printf("What is true of both is worth more than what is true of one. Nothing here was measured in a street: expect worse outdoors.\n\n")
}

func (t *table) aboutFit() {
	t.printf("## Centerline and depth\n\n")
	t.printf("Families whose signal stays on the line. Errors are taken every %.1f m along the drawn line, to the true one, ", everyM)
	t.printf("and along the true one between the first and the last place read, to the drawn one where it claims to be traced. ")
	t.printf("All places of a family count alike. Scripted methods take the rows by time, else as in the file. ")
	t.printf("The oracle knows the order, the shape's family, the noise's law and size, which readings are bad, and how the field reads near bends; ")
	t.printf("it does not know where the line lies. 'At elbows' is within %d m of one. ", nearCornerM)
	t.printf("A leap counts where it takes the position off the line by more than four sigma.\n\n")
}

func (t *table) aboutBleed() {
	t.printf("\n## Bleed-over and caution zones\n\n")
	t.printf("A stretch is dangerous where signal on another conductor moves the peak by more than 0.10 m, or the depth shown by more than 25 %%, ")
	t.printf("over at least %d readings and %.0f m. It is found where stretches graded suspect or strong cover at least %.0f %% of it. ", eventReadings, eventM, 100*foundShare)
	t.printf("Here the layout is not the seed's own: tables hold every column but those that the set lacks. ")
	t.printf("In brackets: of how many.\n\n")
}

// Write writes the tables.
func (r Report) Write(w io.Writer) error {
	t := &table{w: w}
	t.preamble(r.Options)
	if r.Fit != nil {
		t.aboutFit()
		if t.err == nil {
			t.err = WriteFit(w, r.Fit)
		}
	}
	if r.Bleed != nil {
		t.aboutBleed()
		if t.err == nil {
			t.err = WriteBleed(w, r.Bleed)
		}
	}
	return t.err
}

// WriteCases lists the jobs that came out worst.
func (r Report) WriteCases(w io.Writer) error {
	if r.Fit != nil {
		if err := WriteWorst(w, r.Fit); err != nil {
			return err
		}
	}
	if r.Bleed == nil {
		return nil
	}
	return WriteBleedCases(w, r.Bleed)
}
