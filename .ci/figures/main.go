// Command figures measures whole runs side by side, on the same readings: this
// program over one table and over a folder of jobs, a scripted pipeline, a bare read
// of the table, and a count of its lines.
// From the repository's root, on a machine that does nothing else:
//
//	go run ./.ci/figures -most 1000000 >testdata/figures.md
//
// Ten million are for the folder of jobs alone, and take some 35 GB in the folder of
// temporary files and the better part of an hour.
//
// The pipeline (pipeline.py beside this file) needs Python with pandas, scipy and
// shapely, on Debian python3-pandas, python3-scipy and python3-shapely; where they
// are missing the table says so.
package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"loamline.example/trace/tracetest"
)

const (
	readingsALine = 500    // of tracetest.ManyLines
	readingsAJob  = 10_000 // of the folder of jobs that a batch is given
)

// contender is one way to go through readings, which lie in one table and, cut by
// lines, in a folder of jobs.
type contender struct {
	name    string
	command func(table, jobs, out string) []string
	missing string // why it cannot run here
	most    int    // readings that it is given; 0 for any number
}

// figure is what one run took.
type figure struct {
	cpu, wall time.Duration
	peakMB    float64
	written   int64
}

func main() {
	log.SetFlags(0)
	most := flag.Int("most", 100_000, "readings of the largest table")
	read := flag.String("read", "", "read every field of a table and do nothing with it, for this command itself")
	flag.Parse()
	if *read != "" {
		if err := bareRead(*read); err != nil {
			log.Fatal(err)
		}
		return
	}
	if err := measure(os.Stdout, *most); err != nil {
		log.Fatal(err)
	}
}

func measure(w io.Writer, most int) error {
	scratch, err := os.MkdirTemp("", "figures-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	all, err := contenders(scratch)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, head, most, runtime.NumCPU(), readingsALine, readingsAJob)
	tenth := map[string]figure{} // of the readings
	for n := 1000; n <= most; n *= 10 {
		table, jobs := filepath.Join(scratch, fmt.Sprintf("walk-%d.csv", n)), filepath.Join(scratch, fmt.Sprintf("jobs-%d", n))
		if err := writeTable(table, n/readingsALine); err != nil {
			return err
		}
		if err := cut(table, jobs); err != nil {
			return err
		}
		info, err := os.Stat(table)
		if err != nil {
			return err
		}
		var bare figure
		for _, c := range all {
			if c.missing != "" {
				fmt.Fprintf(w, "| %d | %s | %s | – | – | – | – |\n", n, c.name, c.missing)
				continue
			}
			if c.most > 0 && n > c.most {
				continue
			}
			f, err := best(c, table, jobs, scratch)
			if err != nil {
				return fmt.Errorf("%s over %d readings: %w", c.name, n, err)
			}
			if bare.cpu == 0 {
				bare = f // comes first
			}
			growth := "–"
			if before, ok := tenth[c.name]; ok {
				growth = fmt.Sprintf("%.2f", f.cpu.Seconds()/10/before.cpu.Seconds())
			}
			tenth[c.name] = f
			fmt.Fprintf(w, "| %d | %s | %.2f | %.2f | %s | %.0f | %.2f |\n", n, c.name, f.cpu.Seconds()/bare.cpu.Seconds(),
				f.wall.Seconds()/bare.wall.Seconds(), growth, f.peakMB, float64(f.written)/float64(info.Size()))
		}
	}
	return nil
}

const head = `# Whole runs, side by side

Made by ` + "`go run ./.ci/figures -most %d`" + ` on %d cores: processes from their start to their end, over the same simulated tables of lines of %d readings each, the best of three runs where one takes less than ten seconds. Seconds are the machine's and are not told; ratios are the programs'. Time and waiting are as many times a bare read of every field of the table (Go's csv package, to nothing); growth is processor time by reading against that of a tenth of the readings, 1 for linear growth, less while starting up counts; bytes written are as many times the table's. The program writes GeoJSON and KML, and is asked for nothing else: ` + "`map`" + ` over the one table as one job, ` + "`batch`" + ` over the same readings as jobs of %d, on all cores at once. The pipeline too is given the one table, and the folder of jobs one after the other on one core. Beyond a million there are only jobs in a folder: one job of as many readings is none that a locator walks. The pipeline writes GeoJSON, and knows of no bands, gaps, bleed-over or account of rows.

| readings | what | processor time, × bare read | waiting, × bare read | growth | peak memory, MB | written, × the table |
| --- | --- | --- | --- | --- | --- | --- |
`

func contenders(scratch string) ([]contender, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	program := filepath.Join(scratch, "loamline")
	if said, err := exec.Command("go", "build", "-o", program, "./cmd/loamline").CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%w: %s", err, said)
	}
	python, missing := "", "needs Python with pandas, scipy and shapely"
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import pandas, scipy, shapely").Run() == nil {
			python, missing = p, ""
			break
		}
	}
	return []contender{
		{name: "bare read", command: func(table, _, _ string) []string { return []string{self, "-read", table} }},
		{name: "wc -l", command: func(table, _, _ string) []string { return []string{"wc", "-l", table} }},
		{name: "scripted pipeline", missing: missing, most: 1_000_000, command: func(table, _, out string) []string {
			return []string{python, ".ci/figures/pipeline.py", table, filepath.Join(out, "map.geojson")}
		}},
		{name: "scripted pipeline, job by job", missing: missing, command: func(_, jobs, out string) []string {
			return []string{python, ".ci/figures/pipeline.py", jobs, out}
		}},
		{name: "loamline map", most: 1_000_000, command: func(table, _, out string) []string {
			return []string{program, "map", "--quiet", "--out", out, table}
		}},
		{name: "loamline batch", command: func(_, jobs, out string) []string {
			return []string{program, "batch", "--quiet", "--out", out, jobs}
		}},
	}, nil
}

func writeTable(path string, lines int) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	return errors.Join(tracetest.ManyLines(f, lines), f.Close())
}

// cut lays the lines of a table into a folder, readingsAJob in each table of it.
func cut(table, folder string) error {
	if err := os.Mkdir(folder, 0o777); err != nil {
		return err
	}
	whole, err := os.Open(table)
	if err != nil {
		return err
	}
	defer whole.Close()
	rows := bufio.NewScanner(whole)
	if !rows.Scan() {
		return rows.Err()
	}
	head := rows.Text()
	var part *os.File
	var to *bufio.Writer
	for n := 0; rows.Scan(); n++ {
		if n%readingsAJob == 0 {
			if part != nil {
				if err := errors.Join(to.Flush(), part.Close()); err != nil {
					return err
				}
			}
			if part, err = os.Create(filepath.Join(folder, fmt.Sprintf("walk-%05d.csv", n/readingsAJob))); err != nil {
				return err
			}
			to = bufio.NewWriter(part)
			fmt.Fprintln(to, head)
		}
		fmt.Fprintln(to, rows.Text())
	}
	return errors.Join(rows.Err(), to.Flush(), part.Close())
}

// best is the run that took the least processor time: what others do on the machine
// only ever adds.
func best(c contender, table, jobs, scratch string) (figure, error) {
	var least figure
	for i := range 3 {
		f, err := once(c, table, jobs, scratch)
		if err != nil {
			return f, err
		}
		if i == 0 || f.cpu < least.cpu {
			least = f
		}
		if f.wall > 10*time.Second {
			break
		}
	}
	return least, nil
}

func once(c contender, table, jobs, scratch string) (figure, error) {
	out, err := os.MkdirTemp(scratch, "out-*")
	if err != nil {
		return figure{}, err
	}
	defer os.RemoveAll(out)
	args := c.command(table, jobs, out)
	cmd := exec.Command(args[0], args[1:]...)
	var said strings.Builder
	cmd.Stderr = &said
	began := time.Now()
	if err := cmd.Run(); err != nil {
		return figure{}, fmt.Errorf("%w: %s", err, said.String())
	}
	f := figure{cpu: cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), wall: time.Since(began)}
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		f.peakMB = float64(u.Maxrss) / 1024 // told in KiB on Linux
	}
	err = filepath.WalkDir(out, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			f.written += info.Size()
		}
		return err
	})
	return f, err
}

func bareRead(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.ReuseRecord = true
	for {
		if _, err := r.Read(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}
