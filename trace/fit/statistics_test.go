package fit

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"
)

// reference holds other programs' results; see testdata/SOURCES.md.
type reference struct {
	Stackloss map[string]float64   `json:"stackloss_y"`
	Spline    map[string][]float64 `json:"cars_smoothing_spline"`
	Hampel    struct {
		Input, Output []float64
		Outliers      []int
	}
}

func loadReference(t *testing.T) reference {
	t.Helper()
	b, err := os.ReadFile("../../testdata/statistics/reference.json")
	if err != nil {
		t.Fatal(err)
	}
	var r reference
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// column reads a numeric column of a table in testdata/statistics.
func column(t *testing.T, file, name string) []float64 {
	t.Helper()
	f, err := os.Open("../../testdata/statistics/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	for k, h := range rows[0] {
		if h != name {
			continue
		}
		for _, r := range rows[1:] {
			v, err := strconv.ParseFloat(r[k], 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, v)
		}
	}
	return out
}

func close2(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

// Median, MAD and the type 7 quartiles of Brownlee's stack losses, against R.
func TestRobustScaleAgainstR(t *testing.T) {
	ref := loadReference(t)
	y := column(t, "stackloss.csv", "stack_loss")
	close2(t, "median", median(append([]float64(nil), y...)), ref.Stackloss["median"], 1e-12)
	close2(t, "MAD", mad(y), ref.Stackloss["mad_1.4826"], 1e-9)
	iqr := quantile(append([]float64(nil), y...), 0.75) - quantile(append([]float64(nil), y...), 0.25)
	close2(t, "IQR", iqr, ref.Stackloss["iqr_type7"], 1e-12)
}

// The running median of seven, against the medians that a Hampel filter put in
// the place of outliers.
func TestRunningMedianAgainstHampel(t *testing.T) {
	ref := loadReference(t)
	s := make([]sounding, len(ref.Hampel.Input))
	for i, v := range ref.Hampel.Input {
		s[i].lnDepth = v
	}
	if len(ref.Hampel.Outliers) == 0 {
		t.Fatal("no outliers in the reference")
	}
	for _, i := range ref.Hampel.Outliers {
		close2(t, "running median", localMedian(s, i), ref.Hampel.Output[i], 1e-12)
	}
}

// The penalised spline of the depth, on nodes much finer than the data, is the
// cubic smoothing spline: Ezekiel's stopping distances against scipy.
func TestCurveAgainstSmoothingSpline(t *testing.T) {
	ref := loadReference(t)
	x, y := column(t, "cars.csv", "speed"), column(t, "cars.csv", "dist")
	d := curveData{n: len(x), point: func(i int) (float64, float64, float64) { return x[i], y[i], 1 }}
	mean := 0.0
	for i := range y {
		mean += y[i] / float64(len(y))
	}
	var speeds []float64
	for i, v := range x {
		if i == 0 || v != x[i-1] {
			speeds = append(speeds, v)
		}
	}
	const n = 106 // 0.2 apart
	for lambda, want := range ref.Spline {
		l, err := strconv.ParseFloat(lambda, 64)
		if err != nil {
			t.Fatal(err)
		}
		// With the noise's prior variance l, innovations of 1 a metre and a reach
		// far beyond the data, the penalty is l∫f″².
		c := curve{first: x[0], hM: (x[len(x)-1] - x[0]) / (n - 1)}
		c.value, c.variance, c.size = make([]float64, n), make([]float64, n), make([]float64, 1)
		d.priorVariance = l
		f := newCurveFit(d, &c, n)
		const reach = 3e3
		f.solve(wandering{math.Sqrt(reach * reach * reach / 4), reach})
		f.addTo(&c, 1)
		for i, s := range speeds {
			v, _ := c.at(s)
			close2(t, "spline λ="+lambda+" at "+strconv.Itoa(int(s)), v+mean, want[i], 0.1)
		}
	}
}

// Student's 97.5 % points, against the printed tables (Fisher and Yates).
func TestStudentQuantile(t *testing.T) {
	for nu, want := range map[float64]float64{3: 3.1824, 5: 2.5706, 10: 2.2281, 30: 2.0423} {
		close2(t, "t", studentQuantile(nu), want, 1e-4)
	}
}
