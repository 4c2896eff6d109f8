package bleed

// quadratic holds sums over the square blocks of a symmetric matrix, so that
// any block about the diagonal is summed at once.
type quadratic struct {
	n     int
	below []float64 // at k, l: the sum of rows l+1 to k, columns 0 to l
	whole []float64 // at k: of rows and columns 0 to k
}

func (q *quadratic) reset(n int) {
	q.n = n
	if len(q.below) < n*n {
		q.below, q.whole = make([]float64, n*n), make([]float64, n)
	}
}

// of sums rows and columns i to j.
func (q *quadratic) of(i, j int) float64 {
	if i == 0 {
		return q.whole[j]
	}
	return q.whole[j] - q.whole[i-1] - 2*q.below[j*q.n+i-1]
}

// above returns the row of sums above row k.
func (q *quadratic) above(k int) (above []float64, whole float64) {
	if k == 0 {
		return nil, 0
	}
	return q.below[(k-1)*q.n : k*q.n], q.whole[k-1]
}

// linear holds running sums, one longer than what they sum.
type linear []float64

func (v linear) of(i, j int) float64 { return v[j+1] - v[i] }

func (v *linear) reset(n int) {
	if len(*v) < n+1 {
		*v = make(linear, n+1)
	}
}

// sum takes the rows of a symmetric matrix.
func (q *quadratic) sum(n int, row func(k int) []float64) {
	q.reset(n)
	for k := range n {
		above, whole := q.above(k)
		r, into, run := row(k), q.below[k*n:(k+1)*n], 0.0
		for l, x := range r[:k] {
			run += x
			into[l] = run + above[l]
		}
		into[k] = 0
		q.whole[k] = whole + 2*run + r[k]
	}
}

// sumBoth takes the mean of two matrices that are each other's transposes.
func (q *quadratic) sumBoth(n int, rows func(k int) (a, b []float64)) {
	r := make([]float64, n)
	q.sum(n, func(k int) []float64 {
		a, b := rows(k)
		for l := range r {
			r[l] = (a[l] + b[l]) / 2
		}
		return r
	})
}

func (v *linear) sum(of []float64) {
	v.reset(len(of))
	for i, x := range of {
		(*v)[i+1] = (*v)[i] + x
	}
}
