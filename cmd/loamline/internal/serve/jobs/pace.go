package jobs

import (
	"math"
	"time"
)

// pace is how fast this computer has made maps since the program was started: what an
// estimate of the time left goes by. It is nobody's promise: lines with many bends take
// longer than straight ones.
type pace struct{ rowsPerS float64 }

// paceMemory is the weight that the newest map has.
const paceMemory = 0.3

// made notes a finished map.
func (p *pace) made(rows int, took time.Duration) {
	if rows <= 0 || took <= 0 {
		return
	}
	now := float64(rows) / took.Seconds()
	if p.rowsPerS == 0 {
		p.rowsPerS = now
		return
	}
	p.rowsPerS = math.Exp((1-paceMemory)*math.Log(p.rowsPerS) + paceMemory*math.Log(now))
}

// secondsLeft is how long rows may still take where spent has been spent on them, 0
// where nothing is known.
func (p *pace) secondsLeft(rows int, spent time.Duration) int {
	if p.rowsPerS == 0 || rows == 0 {
		return 0
	}
	left := float64(rows)/p.rowsPerS - spent.Seconds()
	return max(1, int(math.Ceil(left))) // what takes longer than reckoned is always about to end
}

// leftOf is how long a run that is under way may still take, 0 where nothing is known:
// while its lines are fitted by those of its own that are done, else by other maps.
func (p *pace) leftOf(rows int, spent time.Duration, is Progress) int {
	if is.Stage == stageFitting && is.Done > 0 && is.Done < is.Total {
		return max(1, int(math.Ceil(spent.Seconds()/float64(is.Done)*float64(is.Total-is.Done))))
	}
	return p.secondsLeft(rows, spent)
}

// rows of a job's tables.
func (j *Job) rows() int {
	n := 0
	for _, f := range j.Files {
		if f.Table != nil {
			n += f.Table.Rows
		}
	}
	return n
}

// secondsBefore is how long the runs that are under way or wait before a place in the
// queue may still take, with as many at once as are made. The caller holds the lock.
func (m *Maker) secondsBefore(place int) int {
	total := 0
	for t, a := range m.running {
		if job, err := m.store.Job(t.id); err == nil {
			total += m.pace.leftOf(job.rows(), time.Since(a.since), a.progress)
		}
	}
	for _, t := range m.queue[:place] {
		if job, err := m.store.Job(t.id); err == nil {
			total += m.pace.secondsLeft(job.rows(), 0)
		}
	}
	return total / m.atOnce
}
