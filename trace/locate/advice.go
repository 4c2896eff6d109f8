package locate

import (
	"fmt"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/framedoubt"
	"loamline.example/trace/placing"
	"loamline.example/trace/records"
	"loamline.example/trace/remark"
)

// advise lists what to check before digging on this job: the places where the
// map itself says that it must not be trusted, line by line; errs is what is
// known of the errors of each line.
func advise(s *trace.Sheet, errs []lineErrors) []trace.Advice {
	var out []trace.Advice
	for i, l := range s.Lines {
		if l.Centerline == nil {
			out = append(out, trace.Advice{Line: l.Setup.Name, FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseNoLine,
				Remark: remark.NoLine{Line: l.Setup.Name, Readings: l.Readings}})
			continue
		}
		out = append(out, errs[i].advice...)
		out = append(out, adviseFindings(s, l)...)
	}
	out = append(out, adviseInput(s)...)
	out = append(out, adviseLayers(s)...)
	// What was measured in the open heads the list.
	slices.SortStableFunc(out, func(a, b trace.Advice) int { return first(b.Kind) - first(a.Kind) })
	feet := framedoubt.FeetM(s.Problems) // told among the input
	for _, l := range s.Lines {
		if off := l.Caution.DoubtM - feet; off > 1e-9 {
			return append(out, trace.Advice{FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseFrame,
				Remark: remark.FrameDoubt{OffM: off, Datum: l.Caution.DoubtDatum, Stated: l.Caution.DoubtStated}})
		}
	}
	return out
}

// adviseInput is what problems of the input ask, where they cost the map more than
// the row that they stand in.
func adviseInput(s *trace.Sheet) []trace.Advice {
	var out []trace.Advice
	for i := range s.Problems {
		if what := s.Problems[i].Check; what != nil {
			of, _ := what.(remark.OnLine)
			if rows, ok := what.(remark.RowsUnread); ok {
				if line, fromM, toM, ok := advice.Around(s, rows.Table, rows.FirstLine); ok {
					rows.Line, rows.FromM, rows.ToM = line, fromM, toM
				}
				what = rows
			}
			out = append(out, trace.Advice{Line: of.Line, FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseInput, Remark: what})
		}
	}
	return out
}

// tellFarTransmitter tells of a transmitter that is said to stand where it cannot have put
// a signal on the line: what near one means for a reading was judged without it.
func tellFarTransmitter(s *trace.Sheet, l trace.LineSetup) {
	if l.Transmitter == nil {
		return
	}
	if km := geo.RoughKm(*l.Transmitter, s.Plane.Origin()); km > placing.OutlierKm {
		s.Problems = append(s.Problems, trace.Problem{File: s.Name, Field: "line.transmitter", Value: l.Name, Warn: true,
			Cause: fmt.Sprintf("the transmitter lies %.0f km from the readings", km), Hint: "check its longitude and latitude; longitude comes first",
			Check: remark.OnLine{Line: l.Name, StationM: trace.Unknown, What: remark.FarTransmitter{Km: km}}})
	}
}

// adviseLayers names the layers whose frame leaves open where their lines are.
func adviseLayers(s *trace.Sheet) []trace.Advice {
	var out []trace.Advice
	named := map[string]bool{}
	for _, r := range s.Records {
		if r.DoubtM <= 0 || named[r.Source] || r.Earlier { // of an earlier job's no layer's keeper knows more
			continue
		}
		named[r.Source] = true
		out = append(out, trace.Advice{FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseRecord,
			Remark: remark.LayerUncertain{Source: r.Source, Doubt: records.Doubt(r)}})
	}
	return out
}

func first(k trace.AdviceKind) int {
	if k == trace.AdviseExposed {
		return 1
	}
	return 0
}

// adviseFinding is what one finding asks to be checked; ok is false where it
// asks nothing.
func adviseFinding(f trace.Finding, l trace.Line) (a trace.Advice, ok bool) {
	var what trace.Remark = remark.LookAt{Line: l.Setup.Name, Finding: f}
	kind := finding.PerKind[trace.AdviceKind]{
		BleedOver: func(f finding.BleedOver) trace.AdviceKind {
			what = bleedItem{lead: f, all: []finding.BleedOver{f}}.remark(l)
			return trace.AdviseBleed
		},
		Gap:      func(finding.Gap) trace.AdviceKind { return trace.AdviseGap },
		Crossing: func(finding.Crossing) trace.AdviceKind { return trace.AdviseCrossing },
		FieldCheck: func(f finding.FieldCheck) trace.AdviceKind {
			if f.NeedsEyes() {
				return trace.AdviseCheck
			}
			return ""
		},
		RecordDifference: func(finding.RecordDifference) trace.AdviceKind { return trace.AdviseRecord },
		Doubt: func(f finding.Doubt) trace.AdviceKind {
			if f.ByExposure {
				return trace.AdviseExposed
			}
			return trace.AdviseDoubt
		},
		Else: func(f trace.Finding) trace.AdviceKind {
			if f.NeedsEyes() {
				return advice.KindOf(f)
			}
			return ""
		},
	}.Of(f)
	from, to := f.Span()
	if g, is := f.(finding.Gap); is {
		from, to = g.Place()
	}
	a = trace.Advice{Line: l.Setup.Name, FromM: from, ToM: to, Kind: kind, Remark: what}
	if kind == trace.AdviseCrossing {
		a.AtM = from
	}
	return a, kind != ""
}
