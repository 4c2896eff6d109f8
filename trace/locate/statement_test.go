package locate

import (
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/framedoubt"
	"loamline.example/trace/remark"
)

// Bands of PAS 128 at 1.5 m depth: B1 ± 225 mm (15 %), B2 ± 600 mm (40 %); at
// 0.5 m B1 ± 150 mm in position and ± 75 mm in depth. Arithmetic on its table of
// survey types and quality levels: QL-B1 ±150 mm or ±15 % of the detected depth,
// whichever is greater, QL-B2 ±250 mm or ±40 %, QL-B3 ±500 mm, and in depth the same
// parts of depth, none for QL-B3 (the specification is not public: figures as public pages
// of several UK survey firms give them alike, 'whichever is greater' from memory).
func TestStatements(t *testing.T) {
	tests := []struct {
		depthM, horizontalM, depth95M float64
		want, notWant                 string
	}{
		{1.5, 0.224, 0.224, "QL-B1", "QL-B2"},
		{1.5, 0.226, 0.10, "QL-B2", "QL-B1 ("},
		{0.5, 0.149, 0.074, "QL-B1", "QL-B2"},
		{0.5, 0.149, 0.076, "QL-B2", "QL-B1 ("},
		{1.0, 0.45, 0.1, "QL-B3", "QL-B2"},
		{1.5, 0.226, 0.226, "QL-B2", "QL-B1 ("}, // 15 % of 1.5 m is 0.225 m
		{1.5, 0.599, 0.599, "QL-B2", "meet no"},
		{1.5, 0.601, 0.1, "no band of PAS 128", ""},
		{1.5, 0.45, 0.601, "QL-B3", "QL-B2 ("},
		{0.5, 0.151, 0.074, "QL-B2", "QL-B1 ("},
		{0.5, 0.249, 0.199, "QL-B2", "QL-B3 ("},
		{0.5, 0.251, 0.199, "QL-B3", "QL-B2 ("},
		{0.5, 0.249, 0.201, "QL-B3", "QL-B2 ("},
		{1.0, 0.499, 0.6, "QL-B3", "no band"},
		{1.0, 0.501, 0.6, "no band of PAS 128", ""},
		{1.0, 1.60, 0.1, "class C", ""},
	}
	for _, tt := range tests {
		p := trace.Part{Vertices: []trace.Vertex{
			{StationM: 0, DepthM: tt.depthM, Depth95M: tt.depth95M, Horizontal95M: tt.horizontalM},
			{StationM: 10, DepthM: tt.depthM, Depth95M: tt.depth95M, Horizontal95M: tt.horizontalM},
		}}
		got := stated(lineOf(p), lineErrors{}, framedoubt.Doubt{})
		if len(got) != 2 || !strings.Contains(got[0], tt.want) || tt.notWant != "" && strings.Contains(got[0], tt.notWant) {
			t.Errorf("%+v: %q", tt, got)
		}
		if !strings.Contains(got[1], "professional's judgement") {
			t.Errorf("no word on who judges: %q", got[1])
		}
	}
}

// The classes of the French order of 15 February 2012 (NOR DEVP1116359A), article
// 1, 3°, which NF S70-003 takes over: A where the greatest uncertainty is 40 cm or
// less for a rigid line, 50 cm or less for a flexible one, B beyond that up to and
// with 1.5 m, C beyond 1.5 m; as amended, B goes no farther than 1 m for service
// connections of lines that are sensitive for safety (the technical guide to the rules,
// part 1, 5.6.2, as quoted in public).
func TestFrenchClasses(t *testing.T) {
	for _, c := range []struct {
		horizontalM float64
		want        string
	}{
		{0.399, "class A of NF S70-003 in position (0.40 m for rigid lines)"},
		{0.400, "class A of NF S70-003 in position (0.40 m for rigid lines)"},
		{0.500, "for flexible lines (0.50 m), else class B"},
		{1.500, "class B of NF S70-003 in position (1.50 m), or class C for a service connection (over 1.00 m)"},
		{0.999, "class B of NF S70-003 in position (1.50 m)"},
		{1.000, "class B of NF S70-003 in position (1.50 m)"},
		{1.001, "class B of NF S70-003 in position (1.50 m), or class C for a service connection (over 1.00 m)"},
		{0.401, "for flexible lines (0.50 m), else class B"},
		{0.499, "for flexible lines (0.50 m), else class B"},
		{0.501, "class B of NF S70-003 in position (1.50 m)"},
		{1.499, "class B of NF S70-003 in position (1.50 m), or class C for a service connection (over 1.00 m)"},
		{1.501, "class C of NF S70-003"},
	} {
		if got := said(remark.Bands{French: frenchClass(worst{horizontalM: c.horizontalM})}); !strings.HasSuffix(got, c.want+".") {
			t.Errorf("%.3f m: %q, want %q", c.horizontalM, got, c.want)
		}
	}
}

// The words name the figures that decide: those of PAS 128 in millimetres and in
// percent of depth (its table of quality levels, as above). ASCE 38-22 gives levels
// and no figures (definitions quoted in a Texas city's contract): a map by
// readings alone states none.
func TestStatementsNameTheFigures(t *testing.T) {
	at := func(horizontalM, depth95M float64) string {
		v := trace.Vertex{DepthM: 1, Depth95M: depth95M, Horizontal95M: horizontalM}
		w := v
		w.StationM = 10
		return strings.Join(stated(lineOf(trace.Part{Vertices: []trace.Vertex{v, w}}), lineErrors{}, framedoubt.Doubt{}), " ")
	}
	for want, got := range map[string]string{
		"QL-B1 (150 mm or 15 % of depth)": at(0.1, 0.1),
		"QL-B2 (250 mm or 40 % of depth)": at(0.2, 0.2),
		"QL-B3 (500 mm, no depth)":        at(0.45, 0.1),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
		if !strings.Contains(got, "ASCE 38: a quality level is a professional's judgement, and this map states none") || strings.Contains(got, "QL-A") || strings.Contains(got, "level B of ASCE") {
			t.Errorf("on ASCE 38: %q", got)
		}
	}
}

// QL-B1 and QL-B2 of PAS 128 are bands in position and in depth: a table without
// depth, or with depth at only some places, claims neither.
func TestNoDepthClaimsNoBandOfDepth(t *testing.T) {
	known := trace.Vertex{DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}
	bare := trace.Vertex{StationM: 10, DepthM: trace.Unknown, Depth95M: trace.Unknown, Horizontal95M: 0.05}
	loose := trace.Vertex{StationM: 10, DepthM: 1, Depth95M: trace.Unknown, Horizontal95M: 0.05}
	for _, vs := range [][]trace.Vertex{{bare, bare}, {known, bare}, {known, loose}} {
		got := stated(lineOf(trace.Part{Vertices: vs}), lineErrors{}, framedoubt.Doubt{})[0]
		if strings.Contains(got, "QL-B1 (") || strings.Contains(got, "QL-B2 (") || !strings.Contains(got, "QL-B3 (500 mm, no depth; QL-B1 and QL-B2 need a depth") {
			t.Errorf("%q", got)
		}
	}
}

// stated are the statements on a line in words.
func stated(l *trace.Line, known lineErrors, frame framedoubt.Doubt) []string {
	return words.Remarks(geo.Metric, statements(l, known, frame))
}

func lineOf(p trace.Part, fs ...trace.Finding) *trace.Line {
	return &trace.Line{Centerline: &trace.Centerline{Parts: []trace.Part{p}}, Findings: fs}
}

// A frame that leaves the whole map in doubt by more than the band, or positions
// that nothing bounds, leave no band to claim.
func TestStatementsInDoubt(t *testing.T) {
	p := trace.Part{Vertices: []trace.Vertex{{DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}, {StationM: 10, DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}}}
	for _, c := range []struct {
		loose bool
		frame framedoubt.Doubt
		want  string
	}{
		{false, framedoubt.Doubt{M: 1.3}, "not stated, adds to it: the whole map may lie 1.30 m off or more,"},
		{false, framedoubt.Doubt{M: 1.3, Datum: "NAD83(2011)"}, "not stated, adds to it: the whole map may lie about 1.30 m off,"},
		{false, framedoubt.Doubt{M: 2, Stated: true}, "no better than that, adds to it: the whole map may lie about 2.00 m off"},
		{true, framedoubt.Doubt{}, "autonomous receiver"},
	} {
		got := stated(lineOf(p), lineErrors{unbounded: c.loose}, c.frame)
		if len(got) != 1 || !strings.Contains(got[0], c.want) || strings.Contains(got[0], "QL-B") || strings.Contains(got[0], "class A") {
			t.Errorf("%+v: %q", c.frame, got)
		}
	}
	// Nor does a band that is wider than the doubt hold both: the map lies off by all of it.
	for _, c := range []struct {
		horizontalM float64
		frame       framedoubt.Doubt
	}{
		{1.05, framedoubt.Doubt{M: 1}}, {1.0, framedoubt.Doubt{M: 0.9, Datum: "ETRS89"}}, {0.3, framedoubt.Doubt{M: 0.2, Datum: "NAD83(HARN)", Stated: true}},
	} {
		w := p.Vertices[0]
		w.Horizontal95M = c.horizontalM
		v := w
		v.StationM = 10
		got := stated(lineOf(trace.Part{Vertices: []trace.Vertex{w, v}}), lineErrors{}, c.frame)
		if len(got) != 1 || !strings.Contains(got[0], "no class of a standard is claimed") {
			t.Errorf("%g m, %+v: %q", c.horizontalM, c.frame, got)
		}
	}
	if got := stated(lineOf(p), lineErrors{}, framedoubt.Doubt{M: 0.04, Stated: true}); len(got) != 2 || !strings.Contains(got[0], "QL-B1") {
		t.Errorf("a frame joined to 4 cm: %q", got)
	}
}

// No claim is made for a stretch that is in doubt, be it to be watched only, and none
// for a line of which the whole may be another's: a statement begins with the stretches
// that it holds for, so that they go along where it is quoted.
func TestStatementsLeaveDoubtfulStretchesOut(t *testing.T) {
	var p trace.Part
	for x := 0.0; x <= 20; x++ {
		v := trace.Vertex{StationM: x, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1}
		switch x {
		case 10:
			v.Horizontal95M = 0.9
		case 20:
			v.Horizontal95M = 0.2
		}
		p.Vertices = append(p.Vertices, v)
	}
	for name, f := range map[string]trace.Finding{
		"watch":   finding.BleedOver{FromM: 10, ToM: 10, Grade: trace.GradeWatch},
		"suspect": finding.BleedOver{FromM: 10, ToM: 10, Grade: trace.GradeSuspect},
		"strong":  finding.BleedOver{FromM: 10, ToM: 10, Grade: trace.GradeStrong},
		"doubt":   finding.Doubt{FromM: 9, ToM: 11},
	} {
		got := stated(lineOf(p, f), lineErrors{}, framedoubt.Doubt{})
		if len(got) != 3 || !strings.HasPrefix(got[0], "0.0 m to 8.0 m: position within 10.0 cm") || !strings.HasPrefix(got[1], "12.0 m to 20.0 m: position within 20.0 cm") {
			t.Errorf("%s: %q", name, got)
		}
		// Many stretches are told as one, by their worst place, and named all the same.
		got = stated(lineOf(p, f, finding.Doubt{FromM: 3, ToM: 3}, finding.Doubt{FromM: 6, ToM: 6}, finding.Doubt{FromM: 14, ToM: 14}), lineErrors{}, framedoubt.Doubt{})
		if len(got) != 2 || !strings.HasPrefix(got[0], "0.0 m to 2.0 m, 4.0 m to 5.0 m, 7.0 m to 8.0 m, 12.0 m to 13.0 m, 15.0 m to 20.0 m: position within 20.0 cm") ||
			!strings.Contains(got[0], "doubtful stretches left out") {
			t.Errorf("%s: %q", name, got)
		}
	}
	for _, f := range []trace.Finding{
		finding.BleedOver{FromM: 0, ToM: 20, Grade: trace.GradeWatch, Jump: true},
		finding.Doubt{FromM: 0, ToM: 19}, // of which a single place is left
		finding.Gap{FromM: 0, ToM: 19},
	} {
		got := stated(lineOf(p, f), lineErrors{}, framedoubt.Doubt{})
		if len(got) != 1 || got[0] != "0.0 m to 20.0 m: no accuracy is stated, because all of it is in doubt." {
			t.Errorf("%T: %q", f, got)
		}
	}
}

// No accuracy reaches up to what was not traced: there no output gives a band.
func TestStatementsEndBeforeAGap(t *testing.T) {
	var p trace.Part
	for x := 0.0; x <= 20; x++ {
		p.Vertices = append(p.Vertices, trace.Vertex{StationM: x, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1})
	}
	for _, at := range []float64{20, 20.4, 21} {
		got := stated(lineOf(p, finding.Gap{FromM: at, ToM: 30}), lineErrors{}, framedoubt.Doubt{})
		want := "0.0 m to 19.0 m: position within"
		if at == 21 {
			want = "0.0 m to 20.0 m: position within"
		}
		if len(got) == 0 || !strings.HasPrefix(got[0], want) {
			t.Errorf("before a gap from %g m: %q", at, got)
		}
	}
	// A doubt reaches as far beyond its stretch as its words do at a place.
	for at, to := range map[float64]string{20.1: "19.0", 20.2: "20.0"} {
		got := stated(lineOf(p, finding.Doubt{FromM: at, ToM: 30}), lineErrors{}, framedoubt.Doubt{})
		if want := "0.0 m to " + to + " m: position within"; len(got) == 0 || !strings.HasPrefix(got[0], want) {
			t.Errorf("before a doubt from %g m: %q", at, got)
		}
	}
	beside := finding.Gap{FromM: trace.Unknown, ToM: trace.Unknown, Along: &[2]float64{10, 12}}
	got := stated(lineOf(p, beside), lineErrors{}, framedoubt.Doubt{})
	if len(got) == 0 || !strings.HasPrefix(got[0], "0.0 m to 9.0 m: position within") {
		t.Errorf("where the way to places beside the line leaves it: %q", got)
	}
}

// An accuracy is stated of the stretches that it holds for, each with its own figure: not
// of a line of which most is in doubt.
func TestStatementsNameWhatTheyHoldFor(t *testing.T) {
	var p trace.Part
	for x := 0.0; x <= 60; x++ {
		band := 0.1
		if x > 40 {
			band = 0.3
		}
		p.Vertices = append(p.Vertices, trace.Vertex{StationM: x, DepthM: 1, Depth95M: 0.1, Horizontal95M: band})
	}
	got := stated(lineOf(p, finding.BleedOver{FromM: 11.5, ToM: 43.5, Grade: trace.GradeWatch}), lineErrors{}, framedoubt.Doubt{})
	if len(got) != 3 || !strings.HasPrefix(got[0], "0.0 m to 10.0 m: position within 10.0 cm") || !strings.HasPrefix(got[1], "45.0 m to 60.0 m: position within 30.0 cm") {
		t.Errorf("%q", got)
	}
	if got := stated(lineOf(p), lineErrors{}, framedoubt.Doubt{}); len(got) != 2 || !strings.HasPrefix(got[0], "0.0 m to 60.0 m: position within 30.0 cm") {
		t.Errorf("nothing in doubt: %q", got)
	}
}

// Places that hang on two clocks, and exposures in rows that were traced, leave no class to
// claim: nothing in the readings shows that they are what they are taken for.
func TestStatementsOnTrust(t *testing.T) {
	p := trace.Part{Vertices: []trace.Vertex{{DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}, {StationM: 10, DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}}}
	read := func(byClock bool, status trace.Status) trace.Reading {
		r := trace.NewReading()
		r.ByClock, r.Status = byClock, status
		return r
	}
	heard := []trace.Problem{{Check: remark.ExposedAndHeard{Line: "W-1", N: 9, Of: 9}}}
	for name, c := range map[string]struct {
		of       trace.Reading
		problems []trace.Problem
		line     string
		claims   bool
	}{
		"its own places":                 {read(false, trace.StatusUsed), nil, "W-1", true},
		"by the clock":                   {read(true, trace.StatusUsed), nil, "W-1", false},
		"by the clock, but set aside":    {read(true, trace.StatusSetAside), nil, "W-1", true},
		"exposed and heard":              {read(false, trace.StatusUsed), heard, "W-1", false},
		"another line exposed and heard": {read(false, trace.StatusUsed), heard, "G-1", true},
	} {
		l := lineOf(p)
		l.Setup.Name, l.Readings = c.line, []trace.Reading{c.of}
		trust := onTrust(&trace.Sheet{Problems: c.problems}, l)
		got := strings.Join(stated(l, lineErrors{onTrust: trust}, framedoubt.Doubt{}), " ")
		if strings.Contains(got, "QL-B1 (") != c.claims || strings.Contains(got, "no class of a standard is claimed") == c.claims {
			t.Errorf("%s: %q", name, got)
		}
	}
}
