package fit

// Groups of readings that may be bursts of leaping positions. Judgement: with more groups
// more bursts are found, and the time is that of a fit for each.
const (
	mostEnd     = 3   // readings at an end, or beside a joint, that may be one
	mostBeside  = 2   // readings beside one that is set aside
	mostSingles = 60  // readings of a walk up to which each is asked about alone
	oddOffset   = 1.0 // in units of what is usual, of a reading that is
)

// burstList collects groups without a double and without an exposed reading.
type burstList struct {
	w    *walk
	seen map[verdict]bool
	all  []verdict
}

func (l *burstList) add(from, to int) {
	for i := from; i < to; i++ {
		if l.w.obs[i].exposed {
			return
		}
	}
	if g := (verdict{from: from, to: to}); from < to && !l.seen[g] {
		l.seen[g] = true
		l.all = append(l.all, g)
	}
}

// bursts lists the groups of readings in use that may be bursts: at the ends, of
// few readings one by one and beside what is set aside, and beside the joints.
func (t *traced) bursts() []verdict {
	var used []int
	for i := range t.w.obs {
		if t.w.obs[i].piece >= 0 {
			used = append(used, i)
		}
	}
	if len(used) < 2*mostEnd {
		return nil
	}
	l := &burstList{w: t.w, seen: map[verdict]bool{}}
	for _, g := range t.w.outlierPatches() {
		l.add(g.from, g.to)
	}
	t.oddEnds(l, used)
	if len(t.w.obs) <= mostSingles {
		t.oddOnes(l, used)
	}
	for k := 1; k < len(used); k++ {
		if t.w.obs[used[k]].piece != t.w.obs[used[k-1]].piece {
			t.besideJoint(l, used, k)
		}
	}
	return l.all
}

// oddEnds adds the readings at either end, unless they are plain.
func (t *traced) oddEnds(l *burstList, used []int) {
	last := len(used) - 1
	rel, scale, ok := t.usualOffset()
	for k := 0; k < mostEnd; k++ {
		if !ok || !t.plainEnd(used[:k+1], rel, scale) {
			l.add(used[0], used[k]+1)
		}
		if !ok || !t.plainEnd(used[last-k:], rel, scale) {
			l.add(used[last-k], used[last]+1)
		}
	}
}

// oddOnes adds each reading that is not as near the line as most, and those next
// to one that is set aside: a burst may be longer than it seemed.
func (t *traced) oddOnes(l *burstList, used []int) {
	rel, scale, ok := t.usualOffset()
	for k, i := range used {
		if !ok || rel(&t.w.obs[i]) > oddOffset*scale {
			l.add(i, i+1)
		}
		if o := &t.w.obs[i]; t.sh.runs[o.piece].winds() {
			for m := 0; m < mostEnd && k+m < len(used) && t.w.obs[used[k+m]].piece == o.piece; m++ {
				l.add(i, used[k+m]+1)
			}
		}
		if k == 0 || i == used[k-1]+1 {
			continue
		}
		for m := 0; m < mostBeside; m++ {
			if k+m < len(used) {
				l.add(i, used[k+m]+1)
			}
			if a := k - 1 - m; a >= 0 {
				l.add(used[a], used[k-1]+1)
			}
		}
	}
}

// besideJoint adds the readings before and after the change of run at the k-th
// one in use.
func (t *traced) besideJoint(l *burstList, used []int, k int) {
	piece := func(k int) int32 { return t.w.obs[used[k]].piece }
	last := len(used) - 1
	for m := 1; m <= mostEnd; m++ {
		if a := k - m; a >= 0 && piece(a) == piece(k-1) {
			l.add(used[a], used[k-1]+1)
		}
		if b := k + m - 1; b <= last && piece(b) == piece(k) {
			l.add(used[k], used[b]+1)
		}
	}
}

// plainEnd reports whether readings at an end lie on a long straight run like
// its others: leaving them out saves neither misfit nor parameters.
func (t *traced) plainEnd(used []int, rel func(*observation) float64, scale float64) bool {
	for _, i := range used {
		o := &t.w.obs[i]
		r := &t.sh.runs[o.piece]
		if !r.straight || len(r.part) < 3*mostEnd || rel(o) > plainOffset*scale {
			return false
		}
	}
	return true
}

// plainOffset is an offset, in units of what is usual, that is no sign of a leap.
// Judgement: one in twenty good readings is farther off.
const plainOffset = 2.0

// winds reports whether a run takes a parameter for every other reading: it may
// pass through leaps, and no reading is far off it.
func (r *run) winds() bool { return !r.straight && 2*r.edf > float64(len(r.part)) }
