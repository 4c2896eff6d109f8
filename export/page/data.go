package page

import (
	"encoding/base64"
	"encoding/json"
	"io"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"loamline.example/export/literal"
	"loamline.example/export/stakeout"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// The page's data: what plan and profile draw, in metres of the sheet's plane.
// encoding/json writes <, > and & as \u escapes, so that no name can end the
// script element that holds it.
type (
	pageJSON struct {
		Units   string          `json:"units"` // "metric" or "us": what is shown first
		Date    string          `json:"date"`
		Origin  [2]float64      `json:"origin"` // longitude and latitude of the plane's origin, degrees
		Tiles   *tilesJSON      `json:"tiles,omitempty"`
		Lines   []drawnLineJSON `json:"lines"`
		Records []pathJSON      `json:"records"`
		Ground  []pathJSON      `json:"ground,omitempty"` // kerbs, walls, buildings
		Fixed   []pathJSON      `json:"fixed,omitempty"`  // places that points are taped from
		Lang    string          `json:"lang,omitempty"`   // where it is not English
		// Texts has what the scripts say in that language, by their English.
		Texts map[string]string `json:"texts,omitempty"`
		Under *underlayJSON     `json:"under,omitempty"`
	}
	// underlayJSON is a site plan: a picture, and what brings its columns and rows to
	// metres of the plane, in the order of a CSS or SVG matrix but with norths.
	underlayJSON struct {
		Picture string     `json:"picture"` // as a data address
		Width   int        `json:"w"`
		Height  int        `json:"h"`
		Matrix  [6]float64 `json:"m"`
		Opacity float64    `json:"opacity"`
	}
	tilesJSON struct {
		URL         string `json:"url"`
		Attribution string `json:"attribution"`
		MaxZoom     int    `json:"maxZoom"`
	}
	drawnLineJSON struct {
		Name      string             `json:"name"`
		Title     string             `json:"title"`
		TitleEn   string             `json:"titleEn,omitempty"` // of a page in two languages
		Code      string             `json:"code"`
		Color     string             `json:"color"`
		Base      string             `json:"base"`            // under the dashes, so that they show on any ground
		Dash      []float64          `json:"dash"`            // in line widths
		FrameM    limits             `json:"frame"`           // one value: how far all may be off for want of a datum
		NoDatum   bool               `json:"datum,omitempty"` // nobody stated it
		Open      bool               `json:"open,omitempty"`  // and it may be off by more: frame is no limit
		HalfM     limits             `json:"half"`            // one value: the tolerance zone's half-width
		WidthsM   []series           `json:"widths"`          // stretches of the caution zone: from, to, right, left, null where no width is known; a fifth, 1, where they are no bound
		Parts     []partJSON         `json:"parts"`
		Tolerance []ringsJSON        `json:"tolerance"`
		Caution   []ringsJSON        `json:"caution"`
		Findings  []drawnFindingJSON `json:"findings"`
		Readings  drawnReadingsJSON  `json:"readings"`
	}
	partJSON struct {
		X            series `json:"x"`
		Y            series `json:"y"`
		StationM     series `json:"s"`
		DepthM       series `json:"d"`
		Depth95M     limits `json:"d95"`
		Horizontal95 limits `json:"h95"`
		LeftM        limits `json:"l95,omitempty"` // the band on either side, where any place has one wider than the other
		RightM       limits `json:"r95,omitempty"`
		Joins        bool   `json:"joins,omitempty"`
	}
	drawnFindingJSON struct {
		Role  string `json:"role"`
		Grade string `json:"grade,omitempty"`
		FromM series `json:"at"` // one station, or from and to
		Path  series `json:"path"`
		Side  string `json:"side,omitempty"` // where the true line probably lies: left or right of travel
		Other string `json:"other,omitempty"`
		Bad   bool   `json:"bad,omitempty"` // a check that failed or could not tell
		// Held is a doubt that the line's own band holds: its figures stand, as doubtful.
		Held bool `json:"held,omitempty"`
		// OffM is how far from the mark the line may lie by bleed-over that is only possible,
		// which no band holds; null where nothing bounds it.
		OffM  limits `json:"off,omitempty"`
		DepM  series `json:"dd,omitempty"` // depth of the other line less this one's
		Title both   `json:"title"`
		Words []both `json:"words"`
	}
	drawnReadingsJSON struct {
		X        series   `json:"x"`
		Y        series   `json:"y"`
		StationM series   `json:"s"`
		DepthM   series   `json:"d"`
		Status   string   `json:"status"` // one letter a reading: u, a (set aside), c, e
		Row      []int32  `json:"row"`
		Reasons  []string `json:"reasons"` // for those that have one, in order
	}
	pathJSON struct {
		Name string `json:"name"`
		Path series `json:"path"`
	}
	ringsJSON []series
)

// series is a list of metres, written to the millimetre; unknown is null.
type series []float64

// MarshalJSON implements json.Marshaler.
func (s series) MarshalJSON() ([]byte, error) {
	return numbersJSON(s, func(m float64) float64 { return math.Round(m*1000) / 1000 }), nil
}

// limits is a list of metres that nothing may be told below. Each is rounded up and finely:
// the page's words round it up once more, to what every other output says, which a figure
// cut to its millimetre would fall short of.
type limits []float64

// MarshalJSON implements json.Marshaler.
func (l limits) MarshalJSON() ([]byte, error) {
	return numbersJSON(l, func(m float64) float64 { return math.Ceil(m*1e4-1e-6) / 1e4 }), nil
}

func numbersJSON(list []float64, rounded func(float64) float64) []byte {
	b := append(make([]byte, 0, 8*len(list)+2), '[')
	for i, v := range list {
		if i > 0 {
			b = append(b, ',')
		}
		if v = rounded(v) + 0; !literal.Finite(v) { // unknown, or the product ran over
			b = append(b, "null"...)
			continue
		}
		b = strconv.AppendFloat(b, v, 'f', -1, 64)
	}
	return append(b, ']')
}

func pageData(s *trace.Sheet, tiles TileSource, v voice, w io.Writer) ([]byte, error) {
	o := s.Plane.Origin()
	d := pageJSON{Units: pageUnitKey(s.Job.Units), Date: words.JobDate(s), Origin: [2]float64{o.LonDeg, o.LatDeg},
		Lines: []drawnLineJSON{}, Records: []pathJSON{}, Texts: v.scriptTexts()}
	if v.Speaker != nil {
		d.Lang = v.Code()
	}
	if tiles.URL != "" {
		d.Tiles = &tilesJSON{tiles.URL, tiles.Attribution, tiles.MaxZoom}
	}
	for i := range s.Lines {
		if _, err := w.Write(nil); err != nil {
			return nil, err
		}
		d.Lines = append(d.Lines, pageLine(s, &s.Lines[i], v))
	}
	for _, r := range s.Records {
		d.Records = append(d.Records, pathJSON{r.Name, flat(r.Path)})
	}
	for _, b := range s.Background {
		d.Ground = append(d.Ground, pathJSON{b.Name, flat(b.Path)})
	}
	for _, f := range stakeout.TapedFrom(s) {
		d.Fixed = append(d.Fixed, pathJSON{f.Name, flat(f.Path)})
	}
	if u := s.Underlay; u != nil {
		g := u.Ground
		d.Under = &underlayJSON{"data:" + u.MIME + ";base64," + base64.StdEncoding.EncodeToString(u.Picture), u.Width, u.Height,
			[6]float64{g.A, g.D, g.B, g.E, g.C, g.F}, u.Opacity}
	}
	return json.Marshal(d)
}

func pageUnitKey(u geo.Units) string {
	if u == geo.US {
		return "us"
	}
	return "metric"
}

func pageLine(s *trace.Sheet, l *trace.Line, v voice) drawnLineJSON {
	st := style.Of(l.Setup.Utility)
	out := drawnLineJSON{Name: l.Setup.Name, Title: v.Say(words.LineTitle(l.Setup)), Code: st.Code, Color: st.Hex, Base: baseUnder(st.Hex),
		Dash: st.Dash, FrameM: limits{l.Caution.DoubtM}, NoDatum: l.Caution.DoubtM > 0 && !l.Caution.DoubtStated, Open: l.Caution.DoubtOpen(), HalfM: limits{l.Tolerance.HalfWidthM}, WidthsM: []series{}, Parts: []partJSON{}, Findings: []drawnFindingJSON{},
		Tolerance: rings(l.Tolerance.Area), Caution: rings(l.Caution.Area)}
	if v.Both() {
		out.TitleEn = words.LineTitle(l.Setup)
	}
	if l.Centerline != nil {
		along := words.NewAlong(l)
		for _, p := range l.Centerline.Parts {
			out.Parts = append(out.Parts, pagePart(along, p))
		}
	}
	for _, z := range words.ZoneStretches(l) {
		if z.NoWidth() {
			z.RightM, z.LeftM = trace.Unknown, trace.Unknown
		}
		width := series{z.FromM, z.ToM, z.RightM, z.LeftM}
		if z.Farther {
			width = append(width, 1)
		}
		out.WidthsM = append(out.WidthsM, width)
	}
	for _, f := range pageFindings(s, l) {
		j := pageFinding(s.Job.Units, f)
		j.Title, j.Words = v.spoken(j.Title), v.spokenAll(j.Words)
		out.Findings = append(out.Findings, j)
	}
	out.Readings = pageReadings(s.Job.Units, l.Readings)
	return out
}

// pagePart tells the bands of the true line, unknown where a doubt leaves none:
// the scripts show no other.
func pagePart(along *words.Along, p trace.Part) partJSON {
	out, oneSided := partJSON{Joins: p.Joins}, false
	for _, v := range p.Vertices {
		t := along.At(v)
		out.X, out.Y = append(out.X, v.Pos.X), append(out.Y, v.Pos.Y)
		out.StationM = append(out.StationM, v.StationM)
		out.DepthM, out.Depth95M = append(out.DepthM, v.DepthM), append(out.Depth95M, t.Depth95M)
		out.Horizontal95 = append(out.Horizontal95, t.Horizontal95M)
		if !t.OneSided() {
			t.LeftM, t.RightM = trace.Unknown, trace.Unknown
		}
		oneSided = oneSided || t.OneSided()
		out.LeftM, out.RightM = append(out.LeftM, t.LeftM), append(out.RightM, t.RightM)
	}
	if !oneSided {
		out.LeftM, out.RightM = nil, nil
	}
	return out
}

// pageFindings are the findings of a line, and the crossings that are told under
// the other line: whoever reads of one line must learn of both.
func pageFindings(s *trace.Sheet, l *trace.Line) []trace.Finding {
	out := slices.Clone(l.Findings)
	for _, c := range finding.CrossedBy(s, l.Setup.Name) {
		out = append(out, c)
	}
	return out
}

func asItIs(*drawnFindingJSON) {}

// drawnOwn adds what the page draws of single kinds beyond stretch and place. A
// kind that the page's scripts know nothing of is drawn as a doubt.
var drawnOwn = finding.PerKind[func(*drawnFindingJSON)]{
	BleedOver: func(f finding.BleedOver) func(*drawnFindingJSON) {
		return func(out *drawnFindingJSON) {
			out.Grade, out.Side = string(f.Grade), string(f.LikelySide)
			if f.Grade == trace.GradeWatch {
				out.OffM = limits{words.WatchedM(f)}
			}
		}
	},
	Crossing: func(f finding.Crossing) func(*drawnFindingJSON) {
		return func(out *drawnFindingJSON) { out.Other, out.DepM = f.Other, series{f.DepthDifferenceM} }
	},
	FieldCheck: func(f finding.FieldCheck) func(*drawnFindingJSON) {
		return func(out *drawnFindingJSON) {
			out.Bad = !f.Passed()
		}
	},
	Gap: func(finding.Gap) func(*drawnFindingJSON) { return asItIs },
	Doubt: func(f finding.Doubt) func(*drawnFindingJSON) {
		return func(out *drawnFindingJSON) { out.Held = words.BandHolds(f) }
	},
	ExposedCheck:     func(finding.ExposedCheck) func(*drawnFindingJSON) { return asItIs },
	RecordDifference: func(finding.RecordDifference) func(*drawnFindingJSON) { return asItIs },
	Else: func(trace.Finding) func(*drawnFindingJSON) {
		return func(out *drawnFindingJSON) { out.Role = finding.Doubt{}.Role() }
	},
}

func pageFinding(job geo.Units, f trace.Finding) drawnFindingJSON {
	out := drawnFindingJSON{Role: f.Role(),
		Title: bothWays(job, func(u geo.Units) string { return words.FindingTitle(u, f) }),
		Words: bothLists(job, func(u geo.Units) []string { return words.Finding(u, f) })}
	from, to := f.Span()
	out.FromM, out.Path = series{from}, flat(f.Where())
	if from != to || len(out.Path) > 2 { // a stretch, also one whose stations are not known
		out.FromM = append(out.FromM, to)
	}
	drawnOwn.Of(f)(&out)
	return out
}

func pageReadings(job geo.Units, rs []trace.Reading) drawnReadingsJSON {
	out := drawnReadingsJSON{Row: []int32{}, Reasons: []string{}}
	letters := make([]byte, 0, len(rs))
	for i := range rs {
		r := &rs[i]
		if !r.Placed() {
			continue // it is in the lists
		}
		letter := byte('u')
		switch r.Status {
		case trace.StatusSetAside:
			letter = 'a'
			out.Reasons = append(out.Reasons, words.Remark(job, r.Reason))
		case trace.StatusCheck:
			letter = 'c'
		case trace.StatusExposed:
			letter = 'e'
		}
		letters = append(letters, letter)
		out.X, out.Y = append(out.X, r.Pos.X), append(out.Y, r.Pos.Y)
		out.StationM, out.DepthM = append(out.StationM, r.StationM), append(out.DepthM, readDepth(r))
		out.Row = append(out.Row, r.Row)
	}
	out.Status = string(letters)
	return out
}

// readDepth is the depth that a reading adds to the profile.
func readDepth(r *trace.Reading) float64 {
	if r.DepthDropped || r.Status == trace.StatusCheck {
		return trace.Unknown
	}
	return r.DepthM
}

// flat writes a path as x, y, x, y.
func flat(path []geo.XY) series {
	out := make(series, 0, 2*len(path))
	for _, p := range path {
		out = append(out, p.X, p.Y)
	}
	return out
}

func rings(area orb.MultiPolygon) []ringsJSON {
	out := []ringsJSON{}
	for _, poly := range area {
		var rs ringsJSON
		for _, ring := range poly {
			r := make(series, 0, 2*len(ring))
			for _, p := range ring {
				r = append(r, p[0], p[1])
			}
			rs = append(rs, r)
		}
		out = append(out, rs)
	}
	return out
}
