package locate

import (
	"fmt"
	"slices"
	"strings"

	"loamline/geo"
	"loamline/trace"
)

// advise lists what to check before digging on this job: the places where the
// map itself says that it must not be trusted, line by line; errs is what is
// known of the lines' errors.
func advise(s *trace.Sheet, errs []lineErrors) []trace.Advice {
	var out []trace.Advice
	for i, l := range s.Lines {
		if l.Centerline == nil {
			out = append(out, trace.Advice{Line: l.Setup.Name, FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseNoLine,
				Words: fmt.Sprintf("%s: no line could be drawn (%s). Locate it again before digging.", l.Setup.Name, whyNoLine(l))})
			continue
		}
		if i < len(errs) {
			out = append(out, errs[i].told...)
		}
		out = append(out, adviseFindings(s, l)...)
	}
	out = append(out, adviseLayers(s)...)
	out = append(out, adviseTransmitters(s)...)
	// What was measured in the open heads the list.
	slices.SortStableFunc(out, func(a, b trace.Advice) int { return first(b.Kind) - first(a.Kind) })
	for _, l := range s.Lines {
		if l.Caution.DoubtM > 0 {
			return append(out, trace.Advice{FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseFrame,
				Words: adviseDatum(l.Caution, s.Job.Units)})
		}
	}
	return out
}

// adviseTransmitters names the transmitters that cannot stand where they are said to:
// what near one means for a reading was judged without it.
func adviseTransmitters(s *trace.Sheet) []trace.Advice {
	var out []trace.Advice
	for _, l := range s.Job.Lines {
		if km, far := farTransmitter(s, l); far {
			out = append(out, wholeLine(l.Name, fmt.Sprintf("the transmitter is stated to be %.0f km from the readings, so its own field near the line was not looked for: correct its position and make the map again.", km))...)
		}
	}
	return out
}

// farTransmitter tells of a transmitter that is said to stand where it cannot have put
// a signal on the line.
func farTransmitter(s *trace.Sheet, l trace.LineSetup) (km float64, far bool) {
	if l.Transmitter == nil {
		return 0, false
	}
	km = geo.RoughKm(*l.Transmitter, s.Plane.Origin())
	return km, km > strayKm
}

// adviseLayers names the layers whose frame leaves open where their lines are.
func adviseLayers(s *trace.Sheet) []trace.Advice {
	var out []trace.Advice
	told := map[string]bool{}
	for _, r := range s.Records {
		if r.DoubtM <= 0 || told[r.Source] {
			continue
		}
		told[r.Source] = true
		off := s.Job.Units.Short(r.DoubtM)
		out = append(out, trace.Advice{FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseRecord, Words: fmt.Sprintf(
			"The known lines of %s may lie %s from where they are drawn, because %s. Ask whoever keeps the layer and state it in the job file (datum of the [[reference]]); until then a distance of up to %s from them tells nothing, and one of them may lie under the marks.",
			r.Source, off, r.DoubtWhy, off)})
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
func adviseFinding(f trace.Finding, l trace.Line, s *trace.Sheet) (a trace.Advice, ok bool) {
	u, name := s.Job.Units, l.Setup.Name
	on := func(kind trace.AdviceKind, fromM, toM float64, words string) trace.Advice {
		return trace.Advice{Line: name, FromM: fromM, ToM: toM, Kind: kind, Words: words}
	}
	a = trace.PerKind[trace.Advice]{
		BleedOver: func(f trace.BleedOver) trace.Advice {
			return on(trace.AdviseBleed, f.FromM, f.ToM, bleedItem{lead: f, all: []trace.BleedOver{f}}.words(l, s))
		},
		Gap: func(f trace.Gap) trace.Advice {
			return on(trace.AdviseGap, f.FromM, f.ToM, adviseGap(f, name, u))
		},
		Crossing: func(f trace.Crossing) trace.Advice {
			a := on(trace.AdviseCrossing, f.StationM, f.StationM, adviseCrossing(f, name, u))
			a.AtM = f.StationM
			return a
		},
		FieldCheck: func(f trace.FieldCheck) trace.Advice {
			if f.Passed() {
				return trace.Advice{}
			}
			return on(trace.AdviseCheck, f.StationM, f.StationM, fmt.Sprintf("%s, %s: %s", name, u.Long(f.StationM), f.Words))
		},
		RecordDifference: func(f trace.RecordDifference) trace.Advice {
			return on(trace.AdviseRecord, f.FromM, f.ToM, fmt.Sprintf("%s, %s to %s: the record '%s' lies up to %s from the trace. Find out which is right.",
				name, u.Long(f.FromM), u.Long(f.ToM), f.Record, u.Short(max(f.LargestOffsetM, -f.LargestOffsetM))))
		},
		Doubt: func(f trace.Doubt) trace.Advice {
			kind := trace.AdviseDoubt
			if f.ByExposure {
				kind = trace.AdviseExposed
			}
			return on(kind, f.FromM, f.ToM, adviseDoubt(f, u))
		},
		Else: func(trace.Finding) trace.Advice { return trace.Advice{} },
	}.Of(f)
	return a, a.Words != ""
}

func adviseGap(f trace.Gap, name string, u geo.Units) string {
	if !trace.Known(f.FromM) {
		return fmt.Sprintf("%s: %s Find the line there before digging.", name, f.Why)
	}
	return fmt.Sprintf("%s, %s to %s: not traced. Find the line there before digging.", name, u.Long(f.FromM), u.Long(f.ToM))
}

// adviseDoubt names the stretch, or the place beside the line, and what to do.
func adviseDoubt(f trace.Doubt, u geo.Units) string {
	where := f.Line
	if trace.Known(f.FromM) {
		where += fmt.Sprintf(", %s to %s", u.Long(f.FromM), u.Long(f.ToM))
	}
	return where + ": " + f.Why + " Find the line there before digging."
}

// askDatum says whom to ask, and where the answer goes.
const askDatum = "Ask whoever runs the base station or correction network which datum its positions are in, and state it (datum in the job file, or --datum). Until then measure from the marks, not from the map."

func adviseDatum(z trace.Zone, u geo.Units) string {
	local, off := z.DoubtDatum, u.ShortUp(z.DoubtM)
	if z.DoubtStated {
		return fmt.Sprintf("The frame of the positions, %s, is joined to WGS 84 no better than to about %s: the whole map may lie that far off wherever it is used in another frame. Measure from the marks, not from the map, or survey in a satellite frame.", local, off)
	}
	if local == "" {
		return "The datum of the positions is not stated: the whole map may lie " + off + " off or more. " + askDatum
	}
	return fmt.Sprintf("The datum of the positions is not stated: if the corrections came in %s, the whole map lies about %s off. %s", local, off, askDatum)
}

// whyNoLine words why nothing could be drawn from a line's readings: what they
// were set aside for, or that too few are left.
func whyNoLine(l trace.Line) string {
	usable := 0
	reasons := map[string]int{}
	var order []string
	for i := range l.Readings {
		r := &l.Readings[i]
		why := r.Why()
		switch r.Status {
		case trace.StatusSetAside:
		case trace.StatusCheck:
			why = "a lifted reading, which is a check and not a point of the line"
		default:
			usable++
			continue
		}
		if reasons[why] == 0 {
			order = append(order, why)
		}
		reasons[why]++
	}
	if usable > 0 {
		return fmt.Sprintf("%d usable of %d readings; two places are needed", usable, len(l.Readings))
	}
	var parts []string
	for _, why := range order {
		parts = append(parts, fmt.Sprintf("%d × %s", reasons[why], why))
	}
	return strings.Join(parts, ", ")
}
