package serve

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"loamline.example/cmd/loamline/internal/serve/jobs"
)

const (
	loadClients = 50
	loadRows    = 1000
)

// loadTrace is one client's walk: one line of a thousand readings.
func loadTrace(client int) string {
	var b strings.Builder
	b.WriteString("line,lat,lon,depth_m,h_acc_m,fix\n")
	for i := range loadRows {
		fmt.Fprintf(&b, "L-%d,%.8f,%.8f,%.2f,0.015,4\n", client, 44.1+float64(client)*1e-3, -30.5+float64(i)*1e-5, 1.1+float64(i%7)*0.01)
	}
	return b.String()
}

// BenchmarkLoad is fifty clients who each hand in a thousand rows at the same
// time on loopback and wait for their map. It reports the median and the 99th
// percentile of how long an upload takes to be stored and a map to be made, and
// the most memory that the heap took. No upload may fail, no job may be lost.
//
//	go test -run '^$' -bench Load -benchtime 1x ./cmd/loamline/internal/serve
func BenchmarkLoad(b *testing.B) {
	for range b.N {
		loadOnce(b)
	}
}

func loadOnce(b *testing.B) {
	srv, err := New(Options{Listen: "127.0.0.1:0", DataDir: b.TempDir(), Version: "test"})
	if err != nil {
		b.Fatal(err)
	}
	defer srv.Close()
	url, stop := listenFor(b, srv)
	defer stop()
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: loadClients}}
	stored, made := make([]time.Duration, loadClients), make([]time.Duration, loadClients)
	most := watchHeap()
	var wg sync.WaitGroup
	for i := range loadClients {
		kind, body := formBody(b, []file{{"trace", "walk.csv", loadTrace(i)}, {"job", "job.toml", fmt.Sprintf("ticket = \"T-%d\"\ndatum = \"WGS84\"\n", i)}})
		wg.Go(func() {
			began := time.Now()
			resp, err := client.Post(url+"/api/v1/jobs?run=yes", kind, strings.NewReader(string(body)))
			if err != nil {
				b.Error(err)
				return
			}
			resp.Body.Close()
			stored[i] = time.Since(began)
			if resp.StatusCode != http.StatusCreated {
				b.Errorf("client %d: %s", i, resp.Status)
				return
			}
			id := strings.TrimPrefix(resp.Header.Get("Location"), "/api/v1/jobs/")
			made[i] = waitMade(b, srv, id, began)
		})
	}
	wg.Wait()
	all, total := srv.store.Search(jobs.Query{})
	for _, j := range all {
		if r := j.LatestDone(); r == nil || r.Summary.Counts.Rows != loadRows || r.Summary.Drawn != 1 {
			b.Errorf("job %s has no whole map", j.Name)
		}
	}
	if total != loadClients {
		b.Errorf("%d jobs of %d are there", total, loadClients)
	}
	for name, d := range map[string][]time.Duration{"stored": stored, "map": made} {
		slices.Sort(d)
		b.ReportMetric(float64(d[len(d)/2].Milliseconds()), name+"-median-ms")
		b.ReportMetric(float64(d[len(d)*99/100].Milliseconds()), name+"-p99-ms")
	}
	b.ReportMetric(float64(most())/(1<<20), "heap-MB")
}

func waitMade(b *testing.B, srv *Server, id string, began time.Time) time.Duration {
	for time.Since(began) < 5*time.Minute {
		job, err := srv.store.Job(id)
		if err != nil {
			b.Error(err)
			return 0
		}
		if r := job.LatestDone(); r != nil {
			return time.Since(began)
		}
		time.Sleep(5 * time.Millisecond)
	}
	b.Errorf("job %s was not made in time", id)
	return 0
}

// watchHeap samples the heap until the function that it returns is called.
func watchHeap() func() uint64 {
	done, result := make(chan bool), make(chan uint64)
	go func() {
		var most uint64
		var m runtime.MemStats
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			select {
			case <-tick.C:
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			case <-done:
				result <- most
				return
			}
		}
	}()
	return func() uint64 { close(done); return <-result }
}

// listenFor serves on a port of loopback as the command does.
func listenFor(b *testing.B, srv *Server) (url string, stop func()) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		b.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- srv.Serve(ctx, l) }()
	return "http://" + l.Addr().String(), func() {
		cancel()
		if err := <-ended; err != nil {
			b.Error(err)
		}
	}
}
