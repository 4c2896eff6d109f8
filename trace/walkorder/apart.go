package walkorder

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/trace"
)

// Two tables of one line whose times interleave are of two crews where the way from reading to
// reading by time is so many times as long as that of one table after the other. One walk that
// was written in two tables is twice as long the other way. Judgement.
const twoCrews = 2.0

// breathS is what lies between two tables that are taken one after the other, in seconds.
// Judgement: any time at all.
const breathS = 1.0

// Apart is by how many seconds the times of a table are put off, by its file, so that what
// several crews read on one line at the same time is one walk after the other; nil where no
// tables interleave so.
func Apart(rs []trace.Reading) map[int32]float64 {
	tables, timed := tablesOf(rs)
	if len(tables) < 2 {
		return nil
	}
	inTime, apart := false, map[int32]float64{}
	end := math.Inf(-1)
	for k, t := range tables {
		if k > 0 && t.fromS < end {
			inTime = true
			apart[t.file] = end + breathS - t.fromS
		}
		end = math.Max(end, t.toS+apart[t.file])
	}
	if !inTime {
		return nil
	}
	wayM := func(put map[int32]float64) (sum float64) {
		at := func(i int) float64 { return seconds(&rs[i]) + put[rs[i].File] }
		slices.SortStableFunc(timed, func(a, b int) int { return cmp.Or(cmp.Compare(at(a), at(b)), cmp.Compare(a, b)) })
		for k := 1; k < len(timed); k++ {
			sum += rs[timed[k]].Pos.Dist(rs[timed[k-1]].Pos)
		}
		return sum
	}
	if wayM(nil) <= twoCrews*wayM(apart) {
		return nil
	}
	return apart
}

// table is when a table's readings were taken.
type table struct {
	file       int32
	fromS, toS float64
}

// tablesOf are those of the readings that have a place and a time, the first begun first, and
// these readings; none where there is but one table.
func tablesOf(rs []trace.Reading) (tables []table, timed []int) {
	one := true
	for i := range rs {
		one = one && rs[i].File == rs[0].File
	}
	if one {
		return nil, nil
	}
	for i := range rs {
		r := &rs[i]
		if !r.Placed() || r.Time.IsZero() {
			continue
		}
		timed = append(timed, i)
		at := seconds(r)
		k := slices.IndexFunc(tables, func(t table) bool { return t.file == r.File })
		if k < 0 {
			tables = append(tables, table{r.File, at, at})
			continue
		}
		tables[k].fromS, tables[k].toS = math.Min(tables[k].fromS, at), math.Max(tables[k].toS, at)
	}
	slices.SortStableFunc(tables, func(a, b table) int { return cmp.Or(cmp.Compare(a.fromS, b.fromS), cmp.Compare(a.file, b.file)) })
	return tables, timed
}
