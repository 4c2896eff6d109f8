package locate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/bleed/besidejump"
	"loamline.example/trace/clean"
	"loamline.example/trace/doubt/antennapair"
	"loamline.example/trace/doubt/crosscheck"
	"loamline.example/trace/doubt/filled"
	"loamline.example/trace/doubt/linename"
	"loamline.example/trace/doubt/swapped"
	"loamline.example/trace/doubt/unheard"
	"loamline.example/trace/framedoubt"
	"loamline.example/trace/guard"
	"loamline.example/trace/placing"
	"loamline.example/trace/records"
	"loamline.example/trace/remark"
	"loamline.example/trace/returnleg"
	"loamline.example/trace/rounding"
	"loamline.example/trace/setting"
	"loamline.example/trace/zones"
)

// Build judges the readings, fits every line, looks for bleed-over, and draws
// the zones: the main job, from rows to the finished Sheet. Lines are fitted
// side by side on all cores; the result does not depend on how. It fails only
// if the context ends, or if the positions cannot be brought to WGS 84.
func Build(ctx context.Context, src trace.Source) (*trace.Sheet, error) {
	s := &trace.Sheet{Name: src.Name, Version: src.Version, Job: setting.DatedBy(src.Job, src.Readings), Inputs: src.Inputs,
		Problems: src.Problems, Cautions: trace.Cautions()}
	s.Counts = trace.Counts{Rows: len(src.Readings) + src.Unreadable, Unreadable: src.Unreadable}

	frame, err := setting.Frame(s.Job)
	if err != nil {
		return nil, err
	}
	rounds := rounding.Find(src.Readings, len(src.Inputs))
	runs := filled.Places(src.Readings, rounds)
	placed, err := placing.Place(src, frame)
	if err != nil {
		return nil, err
	}
	s.Plane, frame, s.Job.Datum = placed.Plane, placed.Frame, placed.Datum
	s.Frame, s.MovedM = frame.Words(s.Plane.Origin()), frame.MovedM(s.Plane.Origin())
	if s.Output, err = outputFrame(s, frame, src.Readings); err != nil {
		return nil, err
	}
	s.OutputWords = s.Output.OutputWords(s.Plane.Origin(), frame)
	s.Problems = append(s.Problems, placed.Problems...)
	checked := crosscheck.Job(src, frame, s.Plane.Origin())
	s.Problems = append(s.Problems, checked.Problems...)
	var far []trace.Problem
	s.Features, far = fixedFeatures(s.Job, frame, s.Plane, src.Readings)
	s.Problems = append(s.Problems, far...)
	s.Records, s.Background, far = records.Plane(src.Records, s.Plane, src.Readings)
	s.Features = append(s.Features, taped(s.Background)...)
	s.Problems = append(s.Problems, far...)
	places := thinned(src.Readings)
	if err := underlay(s, src.Underlay, places); err != nil {
		return nil, err
	}

	if src.Nearby != nil {
		more, err := src.Nearby(ctx, s.Plane, places)
		if err != nil {
			return nil, err
		}
		s.Records = append(s.Records, records.ByFrame(more, frame)...)
	}
	all := traces(src.Readings)
	tangled, contradicting, err := contradictions(ctx, s, all)
	if err != nil {
		return nil, err
	}
	s.Problems = append(s.Problems, tangled...)
	found := append(placed.Found, contradicting...)
	for _, c := range found {
		s.Problems = append(s.Problems, c.Problem)
	}
	s.Lines = make([]trace.Line, len(all))
	errs := make([]lineErrors, len(all))
	if err := fitAll(ctx, s, all, rounds, errs, src.Progress); err != nil {
		return nil, err
	}
	adviseContradictions(found, s.Lines, errs)
	known := records.NewIndex(s.Records)
	if err := findBleedOver(ctx, s, known); err != nil {
		return nil, err
	}
	tellBothOfAMixUp(s)
	if err := findMore(ctx, s.Lines, runs); err != nil {
		return nil, err
	}
	shareShownErrors(s.Lines, errs)
	if err := eachLine(ctx, len(s.Lines), func(i int) error {
		errs[i].advice = unheard.ButFrozen(errs[i].advice, s.Lines[i].Findings)
		errs[i].widenForHidden(&s.Lines[i], rounds)
		return nil
	}); err != nil {
		return nil, err
	}
	for i, cs := range records.Crossings(s.Lines) {
		for _, c := range cs {
			s.Lines[i].Findings = append(s.Lines[i].Findings, c)
		}
	}
	swapped.Tell(s.Lines)
	records.KnownCrossings(s, known)
	records.Compare(s, known)
	doubt := framedoubt.Of(frame, s.Plane.Origin(), checked.OffM).WithFeet(framedoubt.FeetM(s.Problems))
	if err := eachLine(ctx, len(s.Lines), func(i int) error {
		l := &s.Lines[i]
		if l.Centerline == nil {
			return nil
		}
		finish(s, l, errs[i], doubt)
		return nil
	}); err != nil {
		return nil, err
	}
	doubtCrossings(s)
	tellMetInAJump(s)
	count(s)
	warn(s, src)
	s.Advice = advise(s, errs)
	return s, nil
}

// contradictions sets aside the lines that have no course, with what is to be told of them,
// and finds what rows of the others contradict.
func contradictions(ctx context.Context, s *trace.Sheet, all []trace.Trace) ([]trace.Problem, []clean.Contradiction, error) {
	tangled, found := make([][]trace.Problem, len(all)), make([][]clean.Contradiction, len(all))
	err := eachLine(ctx, len(all), func(i int) error {
		tangled[i] = refuseTangles(all[i], s.Inputs)
		found[i] = clean.Contradictions(all[i], s.Job.AntennaGap, s.Inputs)
		return nil
	})
	return slices.Concat(tangled...), slices.Concat(found...), err
}

// finish holds a drawn line against its readings, says how good it is and draws its
// zones.
//
// What the bands of its vertices hold grows on the way and is never taken back: what the fit
// leaves open, pinned down where the line was exposed (fitLine), and what rounding hides
// (Build); then here what readings contradict, what the line that a trace went over to does
// beside a jump, depths read near by that no profile holds, and what the antennas say. Depths
// in doubt have no band. The zones add what is suspected by themselves; only then do the bands
// hold it too, so that every figure that leaves is that of the true line.
func finish(s *trace.Sheet, l *trace.Line, known lineErrors, doubt framedoubt.Doubt) {
	rule := guardRule(l, s)
	rule.DepthScale = known.depthScale
	guard.Apply(l, rule)
	returnleg.Widen(l, s.Job.AntennaGap, ownM)
	besidejump.Widen(l, func() bleed.Line { return bleedLine(s, l) })
	widenToDepthsNearby(l.Centerline)
	doubtDepths(l)
	antennapair.Hold(l, known.depthFactor, known.depthScale > 0, s.Job.AntennaGap)
	known.onTrust = onTrust(s, l)
	l.Statements = statements(l, known, doubt)
	var err error
	l.Tolerance, l.Caution, err = zones.Draw(l.Centerline, l.Findings, s.Job.Tolerance, l.Setup)
	if err != nil {
		withdraw(l, err)
		return
	}
	if doubt.M > 0 {
		l.Caution.DoubtM, l.Caution.DoubtDatum, l.Caution.DoubtStated = doubt.M, doubt.Datum, doubt.Stated
	}
	half, _ := zones.HalfWidth(s.Job.Tolerance, l.Setup)
	l.Reach = zones.ReachAlong(l.Centerline, l.Findings, half)
	zones.WidenForSuspected(l)
}

// fitAll cleans and fits every trace.
func fitAll(ctx context.Context, s *trace.Sheet, all []trace.Trace, rounds rounding.Files, errs []lineErrors, progress func(done, total int)) error {
	var done atomic.Int64
	return eachLine(ctx, len(all), func(i int) error {
		t := all[i]
		setup := s.Job.Setup(t.Name)
		setUp(t, setup)
		clean.Trace(t, s.Job.AntennaGap)
		setLeapsAside(t)
		line, known, err := fitLine(ctx, t, setup, s, rounds)
		if err != nil {
			return err
		}
		s.Lines[i], errs[i] = line, known
		if progress != nil {
			progress(int(done.Add(1)), len(all))
		}
		return nil
	})
}

// count fills the ledger from the readings' fates; the rows are known already.
func count(s *trace.Sheet) {
	for _, l := range s.Lines {
		c := trace.CountReadings(l.Readings)
		s.Counts.Used += c.Used
		s.Counts.SetAside += c.SetAside
		s.Counts.Check += c.Check
		s.Counts.Exposed += c.Exposed
	}
}

// warn adds the problems that only the whole job shows.
func warn(s *trace.Sheet, src trace.Source) {
	tellDate(s, src.Readings)
	linename.TellAlike(s)
	linename.TellUnnamed(s)
	simulated := map[int32]int{}
	for _, l := range s.Lines {
		for i := range l.Readings {
			if l.Readings[i].Fix == trace.FixSimulator {
				simulated[l.Readings[i].File]++
			}
		}
	}
	for f, in := range s.Inputs {
		if n := simulated[int32(f)]; n > 0 {
			s.Problems = append(s.Problems, trace.Problem{File: in.Name, Field: "fix", Warn: true,
				Cause: fmt.Sprintf("SIMULATOR DATA: %d readings say fix 8 and were never measured", n),
				Hint:  "they are set aside; find out how simulator data got into this file before trusting the rest of it",
				Check: remark.SimulatorData{File: in.Name, N: n}})
		}
	}
	linename.TellUnread(s, src.LinePlaces)
	for _, l := range s.Job.Lines {
		tellFarTransmitter(s, l)
	}
}

// thinM is the grid on which a job's places are thinned for a search of its
// surroundings. Judgement.
const thinM = 5.0

// thinned returns the places of the usable readings, one a cell of thinM.
func thinned(rs []trace.Reading) []geo.XY {
	seen := map[[2]int32]bool{}
	var out []geo.XY
	for i := range rs {
		if rs[i].Status != "" {
			continue
		}
		p := rs[i].Pos
		cell := [2]int32{int32(math.Floor(p.X / thinM)), int32(math.Floor(p.Y / thinM))}
		if !seen[cell] {
			seen[cell] = true
			out = append(out, p)
		}
	}
	return out
}
