package words

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Problems are a sheet's problems of the input, the causes of all of them in words.
func Problems(s *trace.Sheet) []trace.Problem {
	out := make([]trace.Problem, len(s.Problems))
	for i, p := range s.Problems {
		if out[i] = p; p.Remark != nil {
			out[i].Cause = Remark(s.Job.Units, p.Remark)
		}
	}
	return out
}

// problemRemark says what is wrong with rows that their neighbours contradict.
func problemRemark(u geo.Units, r trace.Remark) (string, bool) {
	switch r := r.(type) {
	case remark.Contradicted:
		what, _ := contradicted(u, r.What)
		return ofLine(r.Line) + what, true
	case remark.AllDeep:
		return ofLine(r.Line) + fmt.Sprintf("its depths are nearly all more than %s, deeper than the method reads well; the first is %s", u.Short(r.LimitM), u.Short(r.FirstM)), true
	case remark.PointsLost:
		return ofLine(r.Line) + fmt.Sprintf("%s ten times as deep as their neighbours; the first says %s", depthsAre(r.N), u.Short(r.FirstM)), true
	case remark.ElevationsOff:
		first := u.Long(r.FirstM)
		if u == geo.Metric { // the ground is written finer than stations are
			first = fmt.Sprintf("%.2f m", r.FirstM)
		}
		return ofLine(r.Line) + elevationsStandOut(r.N) + "; the first says " + first, true
	}
	return "", false
}

func ofLine(name string) string { return fmt.Sprintf("line %q: ", trace.Shorten(name)) }

// contradicted says what of the depths contradicts itself or what it comes from, and
// what to find out before digging.
func contradicted(u geo.Units, r trace.Remark) (what, ask string) {
	switch r := r.(type) {
	case remark.UnitChanged:
		return fmt.Sprintf("the depths change from %s to %s between two readings (line %d of the table), by the ratio of %s to %s, and are steady before and after",
			u.Short(r.BeforeM), u.Short(r.AfterM), r.Row, r.Unit, r.Other), ": one side or the other may be in another unit. Find out which depths are right before digging."
	case remark.AntennasImplied:
		return fmt.Sprintf("the depths and the two signals imply antennas %s apart, which no receiver has", u.Short(r.ApartM)), wrongSeveralTimes(r.Deeper)
	case remark.DepthsAgainstAntennas:
		return fmt.Sprintf("the depths shown are %.2f times those that the two antennas give, %s apart", r.Times, u.Short(r.GapM)), wrongByFactor
	case remark.DepthsAgainstAntennasInPart:
		return fmt.Sprintf("from line %d to line %d of the table the ratio of the depths to those of the two antennas is %.2f times that in the rest of it", r.FromRow, r.ToRow, r.Times), wrongByFactor
	case remark.DepthsFrozen:
		return fmt.Sprintf("%d depths in a row are exactly %s (up to line %d of the table) where others change from one reading to the next, as if the display had stopped",
			r.N, u.Short(r.DepthM), r.Row), ". The line may lie shallower, deeper or elsewhere there: find out before digging."
	case remark.DepthsSeries:
		return fmt.Sprintf("%d depths in a row (lines %d to %d of the table) each differ from the one before by exactly the same amount, as if they were filled in and not read", r.N, r.FromRow, r.ToRow), notRead
	case remark.DepthsPasted:
		return fmt.Sprintf("%d depths in a row (lines %d to %d of the table) are those from line %d on, one by one, as if they were pasted in and not read", r.N, r.FromRow, r.ToRow, r.AsFromRow), notRead
	case remark.DepthsAllAlike:
		return fmt.Sprintf("all %d depths are exactly %s, as if the display had been held or one depth was typed for all", r.N, u.Short(r.DepthM)), notRead
	case remark.ElevationsStep:
		return fmt.Sprintf("the ground elevations step by %s between two readings (lines %d and %d of the table) and are steady before and after, as at a wall or where the antenna's height was changed",
			u.Short(r.StepM), r.FromRow, r.ToRow), ": those on one side may be off by that. Measure depths from the ground as it is, not from elevations on the map."
	case remark.DisplayAtEnd:
		return fmt.Sprintf("%d depths in a row are exactly %s, and none is greater (up to line %d of the table), as if the display could show no more",
			r.N, u.Short(r.DepthM), r.Row), ". The line may lie deeper there: find out before digging."
	}
	return implausible(u, r)
}

const notRead = ". The line may lie shallower or deeper there: find out before digging."

// rightUnit is what to do about depths in another unit than their header says.
const rightUnit = "If so, correct the unit in the header, as in depth_cm, and make the map again; if not, find out before digging."

const wrongByFactor = ": the depths drawn may be wrong by that factor. Find out before digging."

// wrongSeveralTimes says which way depths may be wrong that suppose antennas closer
// together, or farther apart, than any receiver has them.
func wrongSeveralTimes(deeper bool) string {
	if deeper {
		return ": the line may lie several times deeper than drawn. Find out before digging."
	}
	return ": the line may lie several times shallower than drawn. Find out before digging."
}

func depthsAre(n int) string { return several(n, "depth is", "depths are") }

func elevationsStandOut(n int) string {
	return several(n, "ground elevation stands out from those around it", "ground elevations stand out from those around them")
}
