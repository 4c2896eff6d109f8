package geojson

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"sort"
	"sync"

	"loamline.example/export/literal"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// locatedPart is what a centerline feature is read for.
type locatedPart struct {
	Line, Ticket, Date string
	Utility            trace.Utility
	Stations           []*float64 `json:"stations_m"`
	Depth              []*float64 `json:"depth_m"`
	Depth95            []*float64 `json:"depth_95_m"`
	Horizontal95       []*float64 `json:"horizontal_95_m"`
}

// ReadLocated reads the lines of a map that GeoJSON wrote, for a comparison
// with another map. The error says what the file lacks.
func ReadLocated(r io.Reader, name string) (trace.Located, error) {
	var doc struct {
		Loamline *struct {
			Settings struct {
				CRS   string `json:"crs"`
				Datum string `json:"datum"`
			} `json:"settings"`
		} `json:"loamline"`
		Features []struct {
			Geometry *struct {
				Coordinates json.RawMessage `json:"coordinates"`
			} `json:"geometry"`
			Properties json.RawMessage `json:"properties"`
		} `json:"features"`
	}
	out := trace.Located{Name: name}
	if err := json.NewDecoder(r).Decode(&doc); err != nil {
		return out, &trace.Problem{File: name, Cause: "this is not GeoJSON: " + err.Error(), Err: err, Hint: "give a map that loamline wrote"}
	}
	if doc.Loamline == nil {
		return out, &trace.Problem{File: name, Cause: "this map does not say that loamline wrote it", Hint: "give the .geojson of a job"}
	}
	out.CRS, out.Datum = doc.Loamline.Settings.CRS, doc.Loamline.Settings.Datum
	doubted := map[string][]trace.LocatedStretch{}
	var first *geo.LonLat
	for i, f := range doc.Features {
		var role struct{ Role string }
		if json.Unmarshal(f.Properties, &role) != nil {
			continue
		}
		if line, stretch, ok := doubtedBy(f.Properties); ok {
			doubted[line] = append(doubted[line], stretch)
		}
		if role.Role != trace.RoleCenterline || f.Geometry == nil {
			continue
		}
		var p locatedPart
		if err := json.Unmarshal(f.Properties, &p); err != nil {
			return out, &trace.Problem{File: name, Field: fmt.Sprintf("feature %d", i+1), Cause: err.Error(), Err: err, Hint: "write the map again with loamline map"}
		}
		var coordinates [][2]float64
		err := json.Unmarshal(f.Geometry.Coordinates, &coordinates)
		n := len(coordinates)
		if err != nil || n < 2 || len(p.Stations) != n || len(p.Depth) != n || len(p.Depth95) != n || len(p.Horizontal95) != n {
			return out, &trace.Problem{File: name, Field: fmt.Sprintf("feature %d", i+1), Err: err,
				Cause: "the centerline does not have one station, depth and band per vertex", Hint: "write the map again with loamline map"}
		}
		out.Ticket, out.Date = p.Ticket, p.Date
		stations, depth, depth95, horizontal95 := literal.OrUnknown(p.Stations), literal.OrUnknown(p.Depth), literal.OrUnknown(p.Depth95), literal.OrUnknown(p.Horizontal95)
		part := make([]trace.LocatedVertex, n)
		for k, c := range coordinates {
			part[k] = trace.LocatedVertex{At: geo.LonLat{LonDeg: c[0], LatDeg: c[1]}, StationM: stations[k],
				DepthM: depth[k], Depth95M: depth95[k], Horizontal95M: horizontal95[k]}
		}
		if cause := cannotBe(part, first); cause != "" {
			return out, &trace.Problem{File: name, Field: fmt.Sprintf("feature %d", i+1), Cause: cause, Hint: "write the map again with loamline map"}
		}
		first = &part[0].At
		out.Lines = addPart(out.Lines, p, part)
	}
	for i := range out.Lines {
		out.Lines[i].Doubted = doubted[out.Lines[i].Name]
		parts := out.Lines[i].Parts
		sort.SliceStable(parts, func(a, b int) bool { return parts[a][0].StationM < parts[b][0].StationM })
	}
	return out, nil
}

// farthestKm is how far apart the places of one map can lie: a job's lines do so by 100 km at
// most (trace/placing), and a line may go on from there. Judgement.
const farthestKm = 200.0

// cannotBe says what is wrong with a part that no map has, as a hand that altered the file
// leaves it; "" where nothing is. First is any place of an earlier part.
func cannotBe(part []trace.LocatedVertex, first *geo.LonLat) string {
	from := part[0].At
	if first != nil {
		from = *first
	}
	for k, v := range part {
		switch {
		case !v.At.Valid():
			return fmt.Sprintf("position %d of the centerline is not a longitude and latitude", k+1)
		case geo.RoughKm(from, v.At) > farthestKm:
			return fmt.Sprintf("position %d of the centerline lies more than %.0f km from the first one", k+1, farthestKm)
		case !(math.Abs(v.StationM) <= 1000*farthestKm) || k > 0 && v.StationM < part[k-1].StationM:
			return fmt.Sprintf("station %d of the centerline is missing, or less than the one before", k+1)
		case v.DepthM < 0 || v.Depth95M < 0 || v.Horizontal95M < 0 || max(v.DepthM, v.Depth95M, v.Horizontal95M) > 1000*farthestKm:
			return fmt.Sprintf("depth or band %d of the centerline cannot be one", k+1)
		}
	}
	return ""
}

func addPart(lines []trace.LocatedLine, of locatedPart, part []trace.LocatedVertex) []trace.LocatedLine {
	for i := range lines {
		if lines[i].Name == of.Line {
			lines[i].Parts = append(lines[i].Parts, part)
			return lines
		}
	}
	return append(lines, trace.LocatedLine{Name: of.Line, Utility: of.Utility, Parts: [][]trace.LocatedVertex{part}})
}

// doubtedBy reads a feature by which the map tells not to trust a stretch of a line.
func doubtedBy(properties json.RawMessage) (line string, at trace.LocatedStretch, ok bool) {
	var p struct {
		Role, Line, Grade string
		From              *float64 `json:"from_m"`
		To                *float64 `json:"to_m"`
	}
	if json.Unmarshal(properties, &p) != nil {
		return "", at, false
	}
	if !doubtful()[p.Role] || p.Grade == string(trace.GradeWatch) {
		return "", at, false
	}
	ends := literal.OrUnknown([]*float64{p.From, p.To})
	return p.Line, trace.LocatedStretch{FromM: ends[0], ToM: ends[1]}, true
}

// doubtful are the roles of the findings by which a map tells not to trust a stretch of a
// line: a kind that has no word of its own here is one where it needs a person's eyes, as on
// the map.
var doubtful = sync.OnceValue(func() map[string]bool {
	tells := finding.PerKind[bool]{
		BleedOver:        func(finding.BleedOver) bool { return true },
		Doubt:            func(finding.Doubt) bool { return true },
		Gap:              func(finding.Gap) bool { return false }, // no line is drawn there
		Crossing:         func(finding.Crossing) bool { return false },
		FieldCheck:       func(finding.FieldCheck) bool { return false },
		ExposedCheck:     func(finding.ExposedCheck) bool { return false },
		RecordDifference: func(finding.RecordDifference) bool { return false },
		Else:             trace.Finding.NeedsEyes,
	}
	roles := map[string]bool{}
	for _, f := range finding.All() {
		roles[f.Role()] = tells.Of(f)
	}
	return roles
})
