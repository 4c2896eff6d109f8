package jobfile

import (
	"bytes"
	"errors"
	"os"
	"reflect"
	"slices"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// Settings written as a job file and read again are the same job, so that a run
// can be made again on the command line.
func TestSettingsRoundTrip(t *testing.T) {
	text, err := os.ReadFile("../../../../../examples/lantern-row/lantern-row.toml")
	if err != nil {
		t.Fatal(err)
	}
	job, err := intake.ReadJobFile(bytes.NewReader(text), "lantern-row.toml")
	if err != nil {
		t.Fatal(err)
	}
	again, err := SettingsOf(job).Job()
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range []*trace.Job{&job, &again} {
		for i := range j.Lines { // unknown numbers are not equal to themselves
			l := &j.Lines[i]
			for _, v := range []*float64{&l.DiameterM, &l.FreqHz, &l.PowerW} {
				*v = orZero(*v)
			}
		}
	}
	if !reflect.DeepEqual(job, again) {
		t.Errorf("read  %+v\nagain %+v", job, again)
	}
}

func TestDefaultSettings(t *testing.T) {
	job, err := DefaultSettings().Job()
	if err != nil {
		t.Fatal(err)
	}
	d := trace.DefaultJob()
	if job.Tolerance != d.Tolerance || job.CRS != d.CRS || job.Units != d.Units || trace.Known(job.AntennaGap) {
		t.Errorf("%+v is not the default", job)
	}
}

// A setting that cannot be used is told by its key, and by no line of a file
// that nobody wrote.
func TestWrongSetting(t *testing.T) {
	s := DefaultSettings()
	s.Tolerance.HalfWidth = "eighteen"
	_, err := s.Job()
	var p *trace.Problem
	if !errors.As(err, &p) || p.Field != "tolerance.half_width" || p.Row != 0 || p.File != "" {
		t.Errorf("%+v", err)
	}
}

// Lengths are in inches only where they are whole eighths.
func TestLengthText(t *testing.T) {
	for m, want := range map[float64]string{0.4572: "18 in", 0.1143: "4.5 in", 0.5: "0.5 m", 0.11: "0.11 m", 0: ""} {
		if got := lengthText(m); got != want {
			t.Errorf("%g m: %q, not %q", m, got, want)
		}
	}
}

// Whatever a job file can say has its place in Settings, or it would be lost in
// silence between the upload and the map: a field that is added there must be
// added here as well.
func TestEverySettingHasAPlace(t *testing.T) {
	for _, c := range []struct {
		of   reflect.Type
		want []string
	}{
		{reflect.TypeFor[trace.Job](), []string{"ID", "Ticket", "Date", "ValidUntil", "Locator", "Area", "Units", "Language", "CRS", "Datum", "Epoch", "AntennaGap", "VerticalDatum", "GNSSOffsetS", "OutputCRS",
			"Tolerance", "Contact", "Columns", "Lines", "References", "Features", "Underlay", "Sheets", "PageURL", "Dir"}}, // an underlay is refused at the upload
		{reflect.TypeFor[trace.FixedFeature](), []string{"Name", "X", "Y", "Grid"}},
		{reflect.TypeFor[trace.Contact](), []string{"Owner", "OwnerPhone", "Emergency"}},
		{reflect.TypeFor[trace.Tolerance](), []string{"HalfWidthM", "MeasuredFrom", "Rule"}},
		{reflect.TypeFor[trace.LineSetup](), []string{"Name", "Utility", "DiameterM", "Material", "Hookup", "FreqHz", "PowerW", "Transmitter"}},
		{reflect.TypeFor[trace.Reference](), []string{"File", "Utility", "CRS", "Datum", "Epoch", "Layer", "Table", "NameColumn", "Role"}},
	} {
		var got []string
		for i := range c.of.NumField() {
			got = append(got, c.of.Field(i).Name)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s has %q; settings keep %q", c.of, got, c.want)
		}
	}
}
