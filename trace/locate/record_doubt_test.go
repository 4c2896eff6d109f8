package locate

import (
	"fmt"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/intake"
)

// frameJob is a walk along a straight main, east, in NAD83(2011), with a layer whose
// line has the very same figures. From Maryland's side of the continent the frame
// lies some 1.1 to 1.5 m from WGS 84 (NOAA's and Canada's published parameters, which
// geo is tested against).
func frameJob(t *testing.T, ref intake.ReferenceFile, utility string) *trace.Sheet {
	t.Helper()
	const lon, lat = -76.6, 39.3
	var table, layer strings.Builder
	table.WriteString("line,lat,lon,fix,h_acc_m,depth_m,time\n")
	for i := range 40 {
		off := 1e-7 * float64(i%3-1) // a centimetre of scatter
		fmt.Fprintf(&table, "W-1,%.8f,%.8f,4,0.02,%.2f,2026-05-12T10:%02d:%02dZ\n", lat+off, lon+float64(i)*1.2e-5, 1.1+0.02*float64(i%2), i/60, i%60)
	}
	fmt.Fprintf(&layer, `{"type":"Feature","properties":{"name":"main 12","utility":%q},"geometry":{"type":"LineString","coordinates":[[%.8f,%.8f],[%.8f,%.8f]]}}`, utility, lon-1e-4, lat, lon+6e-4, lat)
	ref.File = textFile("town.geojson", layer.String())
	job := trace.DefaultJob()
	job.Datum, job.Epoch, job.Units = "NAD83(2011)", 2026.36, geo.Metric
	job.Lines = []trace.LineSetup{{Name: "W-1", Utility: trace.Water, DiameterM: trace.Unknown, FreqHz: trace.Unknown, PowerW: trace.Unknown}}
	src, err := intake.Load(t.Context(), intake.LoadOptions{Name: "walk", Job: job, Tables: []intake.File{textFile("walk.csv", table.String())}, References: []intake.ReferenceFile{ref}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Build(t.Context(), src)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What the frames alone explain is never told as a difference: of a layer whose
// frame is not stated the map says so under what to check, and gives no distance.
func TestFramesAloneAreNoEvidence(t *testing.T) {
	for _, utility := range []string{"water", "gas", "unknown"} {
		s := frameJob(t, intake.ReferenceFile{Utility: trace.UnknownKind}, utility)
		doubtM := s.Records[0].DoubtM
		if doubtM < 1 || doubtM > 2 {
			t.Fatalf("%s: the frames lie %.2f m apart", utility, doubtM)
		}
		asked := false
		for _, a := range s.Advice {
			asked = asked || a.Kind == trace.AdviseRecord && strings.Contains(said(a.Remark), "town.geojson") && strings.Contains(said(a.Remark), "its frame is not stated") && strings.Contains(said(a.Remark), s.Job.Units.Short(doubtM))
		}
		if !asked {
			t.Errorf("%s: nothing is asked: %+v", utility, s.Advice)
		}
		for _, f := range s.Lines[0].Findings {
			switch f := f.(type) {
			case finding.RecordDifference:
				t.Errorf("%s: a difference of frames is told as one of the ground: %+v", utility, f)
			case finding.BleedOver:
				if why := strings.Join(words.Remarks(geo.Metric, f.Evidence), " "); utility == "water" || f.Jump || trace.Known(f.SeparationM) || !strings.Contains(why, "its frame is not stated") {
					t.Errorf("%s: a difference of frames is evidence: %+v", utility, f)
				}
			case finding.Crossing:
				if utility == "water" || f.DoubtM != doubtM || f.DoubtWhy == "" {
					t.Errorf("%s: %+v", utility, f)
				}
			}
		}
		for _, w := range words.Remarks(geo.Metric, s.Lines[0].Checked) {
			if strings.Contains(w, "Compared with the record") && !strings.Contains(w, "its frame is not stated") {
				t.Errorf("%s: %s", utility, w)
			}
		}
	}
}

// Stated, the record lies on the trace, and nothing is asked.
func TestStatedFramesLieTogether(t *testing.T) {
	s := frameJob(t, intake.ReferenceFile{Utility: trace.UnknownKind, Datum: "NAD83(2011)"}, "water")
	if s.Records[0].DoubtM != 0 {
		t.Errorf("doubt %g", s.Records[0].DoubtM)
	}
	for _, a := range s.Advice {
		if a.Kind == trace.AdviseRecord {
			t.Errorf("asked all the same: %s", said(a.Remark))
		}
	}
	if len(s.Lines[0].Compared) == 0 {
		t.Fatal("the record was not compared")
	}
	for _, o := range s.Lines[0].Compared {
		if o.OffsetM > 0.05 || o.OffsetM < -0.05 {
			t.Errorf("the record lies %.3f m off at %.1f m", o.OffsetM, o.StationM)
		}
	}
}

// A kerb is drawn and is no neighbour, whatever it runs beside.
func TestBackgroundIsNoNeighbour(t *testing.T) {
	s := frameJob(t, intake.ReferenceFile{Utility: trace.UnknownKind, Datum: "NAD83(2011)", Background: true}, "gas")
	if len(s.Records) != 0 || len(s.Background) != 1 || s.Background[0].Name != "main 12" {
		t.Fatalf("%+v, %+v", s.Records, s.Background)
	}
	for _, f := range s.Lines[0].Findings {
		switch f := f.(type) {
		case finding.BleedOver:
			if f.Neighbor != "unknown" {
				t.Errorf("suspected: %+v", f)
			}
		case finding.Crossing, finding.RecordDifference:
			t.Errorf("%+v", f)
		}
	}
}
