package postgis

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/ewkb"

	"loamline.example/export/archive"
	"loamline.example/geo"
)

// A city's archive: so many lines a job, and so many jobs unless LOAMLINE_CITY_JOBS
// says how many.
const (
	cityJobs     = 10_000
	linesAJob    = 10
	metresPerLat = 111_240.0
)

// fillCity brings a city into an archive by COPY: jobs of ten lines of 60 m, on a
// grid of 300 m that is as wide as it is high.
func fillCity(t *testing.T, a *database, cityJobs int) {
	t.Helper()
	ctx := t.Context()
	r := rand.New(rand.NewPCG(19, 3))
	for _, c := range []struct {
		table   string
		columns []string
		n       int
		row     func(i int) []any
	}{
		{"job", []string{"key", "name", "date", "inputs"}, cityJobs, func(i int) []any {
			return []any{jobName(i), jobName(i), time.Date(2024, 5, 12, 0, 0, 0, 0, time.UTC), []string{"walk.csv"}}
		}},
		{"archive_version", []string{"key", "version", "present", "base", "name", "ticket", "date", "stated", "files", "exact", "kept_at", "changed", "settings", "sha256"}, cityJobs, func(i int) []any {
			return []any{jobName(i), 1, true, jobName(i), jobName(i), "", nil, "", []string{fmt.Sprintf("%064x", i)}, true, nil, "", "{}", ""}
		}},
		{"centerline", []string{"geom", "job", "role", "line", "utility", "part", "parts", "depth_m"}, cityJobs * linesAJob, func(i int) []any {
			at := cityPlace(i/linesAJob, cityJobs)
			at.LonDeg += float64(i%linesAJob) * 10 / (metresPerLat * 0.72)
			at.LatDeg += r.Float64() * 5 / metresPerLat
			var path orb.LineString
			for k := range 7 {
				path = append(path, orb.Point{at.LonDeg, at.LatDeg + float64(k)*10/metresPerLat})
			}
			return []any{ewkb.MustMarshal(path, 4326), jobName(i / linesAJob), "centerline", fmt.Sprintf("L-%d", i%linesAJob), "water", 1, 1, []float64{1, 1, 1, 1, 1, 1, 1}}
		}},
	} {
		_, err := a.conn.CopyFrom(ctx, pgx.Identifier{"loamline", c.table}, c.columns, pgx.CopyFromSlice(c.n, func(i int) ([]any, error) { return c.row(i), nil }))
		if err != nil {
			t.Fatalf("%s: %v", c.table, err)
		}
	}
	if _, err := a.conn.Exec(ctx, `ANALYZE loamline.job, loamline.archive_version, loamline.centerline`); err != nil {
		t.Fatal(err)
	}
}

func jobName(i int) string { return fmt.Sprintf("job-%05d", i) }

// cityPlace is where a job's first line begins.
func cityPlace(job, of int) geo.LonLat {
	wide := int(math.Ceil(math.Sqrt(float64(of))))
	return geo.LonLat{LonDeg: -30.5 + float64(job%wide)*300/(metresPerLat*0.72), LatDeg: 44.1 + float64(job/wide)*300/metresPerLat}
}

// walkBeside is the question of a job whose readings lie beside the first line of a
// stored one.
func walkBeside(job, of int) archive.NearQuery {
	q := archive.NearQuery{Plane: geo.NewPlane(cityPlace(job, of)), WithinM: 25}
	for y := range 12 {
		q.Places = append(q.Places, geo.XY{X: -3, Y: float64(5 * y)})
	}
	return q
}

// nearSQL is what the program asks the database for a job's neighbours.
func nearSQL(t *testing.T, q archive.NearQuery) (string, []any) {
	t.Helper()
	cells := archive.NewCells(q)
	multi, err := cellPlaces(q, cells)
	if err != nil {
		t.Fatal(err)
	}
	return withinSQL(questions(q, cells)[0], multi, 2*q.WithinM)
}

// plan is a node of EXPLAIN (ANALYZE, BUFFERS, FORMAT JSON).
type plan struct {
	Node   string `json:"Node Type"`
	Table  string `json:"Relation Name"`
	Index  string `json:"Index Name"`
	Pages  int    `json:"Shared Hit Blocks"`
	Loaded int    `json:"Shared Read Blocks"`
	Plans  []plan
}

func (p plan) walk(see func(plan)) {
	see(p)
	for _, below := range p.Plans {
		below.walk(see)
	}
}

// explain runs a question and tells how the database went about it and how many
// milliseconds that took.
func explain(t *testing.T, a *database, sql string, args ...any) (p plan, ms float64) {
	t.Helper()
	var text []byte
	if err := a.conn.QueryRow(t.Context(), `EXPLAIN (ANALYZE, BUFFERS, FORMAT JSON) `+sql, args...).Scan(&text); err != nil {
		t.Fatal(err)
	}
	var out []struct {
		Plan     plan
		Planning float64 `json:"Planning Time"`
		Running  float64 `json:"Execution Time"`
	}
	if err := json.Unmarshal(text, &out); err != nil || len(out) != 1 {
		t.Fatalf("%v in %s", err, text)
	}
	return out[0].Plan, out[0].Planning + out[0].Running
}

// byIndex fails where a question reads a whole table, or more of the database than
// its answer can need, and says how it was answered.
func byIndex(t *testing.T, what string, p plan, maxPages int) string {
	t.Helper()
	var used []string
	p.walk(func(n plan) {
		if n.Index != "" {
			used = append(used, n.Index)
		}
		if n.Node == "Seq Scan" {
			t.Errorf("%s: all of %s is read", what, n.Table)
		}
	})
	if p.Pages+p.Loaded > maxPages {
		t.Errorf("%s: %d pages are read, more than %d", what, p.Pages+p.Loaded, maxPages)
	}
	return fmt.Sprintf("%s: %d pages by %s", what, p.Pages+p.Loaded, strings.Join(used, ", "))
}

// In an archive of 100,000 centerlines, or of as many as are asked for, the neighbours
// of a job, and its place in the ledger, come by the indexes, and what is read for them
// does not grow with the archive.
func TestCityArchiveIsSearchedByIndex(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	a := openEmpty(t)
	jobs := cityJobs
	if asked := os.Getenv("LOAMLINE_CITY_JOBS"); asked != "" {
		var err error
		if jobs, err = strconv.Atoi(asked); err != nil || jobs < cityJobs {
			t.Fatalf("LOAMLINE_CITY_JOBS is %q: it is a number of jobs, %d or more", asked, cityJobs)
		}
	}
	began := time.Now()
	fillCity(t, a, jobs)
	t.Logf("%d centerlines of %d jobs stored by COPY in %.0f s", jobs*linesAJob, jobs, time.Since(began).Seconds())
	const job = 5_050
	q := walkBeside(job, jobs)
	got, err := a.Near(t.Context(), q)
	// Lines lie 10 m apart: the walk is within 25 m of those at 0, 10 and 20 m.
	if err != nil || len(got) != 3 || got[0].Source != "archive: job job-05050, traced on 2024-05-12" || got[2].Name != "L-2" {
		t.Fatalf("%v, %+v", err, got)
	}
	q.Except = archive.NewIdentities(archive.Identity{Files: []string{fmt.Sprintf("%064x", job)}})
	if got, err = a.Near(t.Context(), q); err != nil || len(got) != 0 {
		t.Errorf("its own lines are its neighbours: %v, %+v", err, got)
	}
	// Jobs all over the city, each asked for the first time.
	var took []float64
	for i := range 100 {
		sql, args := nearSQL(t, walkBeside((i*jobs/100+37)%jobs, jobs))
		p, ms := explain(t, a, sql, args...)
		answered := byIndex(t, "neighbours", p, 500)
		if took = append(took, ms); i == 0 {
			t.Log(answered)
		}
	}
	slices.Sort(took) // told, and judge nothing
	t.Logf("neighbours of 100 jobs among %d centerlines: median %.1f ms, 95th percentile %.1f ms, longest %.1f ms, planning included", jobs*linesAJob, took[50], took[95], took[99])
	// A walk of three kilometres straight through the blocks: its box holds a hundred jobs.
	long := archive.NearQuery{Plane: geo.NewPlane(cityPlace(job, jobs)), WithinM: 25}
	for i := range 600 {
		long.Places = append(long.Places, geo.XY{X: 3.5 * float64(i), Y: 3.5 * float64(i)})
	}
	sql, args := nearSQL(t, long)
	p, ms := explain(t, a, sql, args...)
	t.Logf("%s, %.1f ms for a walk of 3 km", byIndex(t, "neighbours", p, 5000), ms)
	p, ms = explain(t, a, ledgerAboutSQL, []string{fmt.Sprintf("%064x", job)}, "", "job-05050")
	t.Logf("%s, %.1f ms", byIndex(t, "place in the ledger", p, 100), ms)
}
