package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/cmd/loamline/internal/batch"
	"loamline.example/cmd/loamline/internal/summary"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

func batchCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:      "batch",
		Usage:     "make the maps of many jobs from the folders that they lie in",
		ArgsUsage: "FOLDER…",
		Description: "A folder with one job file (.toml) is a job, with every table (.csv, .tsv) and GNSS log " +
			"(.nmea) in it; job.toml takes the folder's name, any other job file gives its own. In a folder " +
			"with several job files each takes the tables that begin with its name. Any other table is a job " +
			"by itself. Layers are those that the job file names, and those of --reference. Folders below " +
			"are searched as well, except those whose names begin with a dot.\n\n" +
			"Each job has a folder of its own under --out, laid out as the inputs are. A job that fails " +
			"stops no other. Lines of other jobs of the batch, and of the archive, are neighbours. Run the " +
			"same again after an interrupt or a change: only what is missing, or made from other inputs, " +
			"settings or another program, is made.\n\n" +
			statusWordsOf(batchStatusMeanings) +
			examples("loamline batch jobs --out maps", "loamline batch jobs --out maps --shard 0/4", "loamline batch 2024 2025 --out maps --write pdf,html --archive city.gpkg"),
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "out", Usage: "`FOLDER` for the outputs, empty or of an earlier batch", Value: "maps"},
			&cli.StringSliceFlag{Name: "write", Usage: "further outputs, comma-separated: " + formatHelp()},
			&cli.StringSliceFlag{Name: "reference", Usage: "`LAYER` of known lines for every job, as for map"},
			&cli.StringFlag{Name: "archive", Usage: "`ARCHIVE` of earlier jobs (a .gpkg file or postgres://…): its lines are neighbours, and the jobs are kept in it"},
			&cli.StringFlag{Name: "log", Usage: "`FILE` with one line of JSON per job", DefaultText: "batch.jsonl in the folder of outputs, or batch-PART-of-OF.jsonl"},
			&cli.StringFlag{Name: "shard", Usage: "make only `PART/OF` of the jobs, such as 0/4 to 3/4 by four programs: together they make what one would"},
			&cli.IntFlag{Name: "jobs", Usage: "how `MANY` jobs at once; fewer need less memory", DefaultText: "one a core"},
			&cli.BoolFlag{Name: "strict", Usage: "end with status 3 if something in a map needs review"},
			&cli.BoolFlag{Name: "quiet", Usage: "print no summary"},
		}, batchJobFlags()...),
		Action: func(c *cli.Context) error { return runBatch(c, std) },
	}
}

// ofOneJob are settings that no two jobs share.
var ofOneJob = []string{"job-id", "page-url"}

// batchJobFlags are the settings of map that can hold for many jobs.
func batchJobFlags() []cli.Flag {
	return slices.DeleteFunc(append(jobFlags(), formatFlags()...), func(f cli.Flag) bool { return slices.Contains(ofOneJob, f.Names()[0]) })
}

// notOfTheMap are flags that change nothing in what is written.
var notOfTheMap = []string{"out", "log", "shard", "jobs", "strict", "quiet"}

var batchStatusMeanings = []statusMeaning{
	{statusOK, "all maps are there"},
	{statusFailed, "a job failed, or the batch was stopped; nothing half-written is left"},
	{statusUsage, "wrong usage"},
	{statusNeedsEyes, "all maps are there, and something in them needs review (only with --strict)"},
}

func runBatch(c *cli.Context, std streams) error {
	opt, err := batchOptions(c)
	if err != nil {
		return err
	}
	arch, err := openArchive(c.Context, c.String("archive"))
	if err != nil {
		return err
	}
	defer arch.close()
	opt.Archive = arch.Archive
	bar := newBatchProgress(std.err, c.Bool("quiet"))
	opt.Progress = bar.step
	report, err := batch.Run(c.Context, opt)
	bar.done()
	if err != nil {
		return err
	}
	if !c.Bool("quiet") {
		report.Summary(std.out, summary.OnOneLine)
	}
	switch t := report.Tally(); {
	case report.Stopped:
		// Not wrapped: a stop here is none before which nothing was written.
		return fmt.Errorf("stopped; %d of %d jobs are whole, and the same command goes on with the others", t.Made+t.Unchanged, len(report.Entries))
	case t.Failed > 0:
		return fmt.Errorf("%d of %d jobs failed: %s says why", t.Failed, len(report.Entries), report.Log)
	case c.Bool("strict") && t.NeedEyes > 0:
		return errNeedsEyes
	}
	return nil
}

func batchOptions(c *cli.Context) (batch.Options, error) {
	opt := batch.Options{Folders: c.Args().Slice(), Out: c.String("out"), Log: c.String("log"), Write: splitList(c.StringSlice("write")),
		AtOnce: c.Int("jobs"), ReachM: neighborReachM, NeedsEyes: needsEyes}
	if len(opt.Folders) == 0 {
		return opt, usagef("batch needs at least one folder")
	}
	if err := knownFormats(opt.Write); err != nil {
		return opt, err
	}
	if c.IsSet("jobs") && opt.AtOnce < 1 {
		return opt, usagef("--jobs %d: at least 1", opt.AtOnce)
	}
	if opt.AtOnce == 0 {
		opt.AtOnce = runtime.GOMAXPROCS(0)
	}
	var err error
	if opt.Shard, err = batch.ParseShard(c.String("shard")); err != nil {
		return opt, usagef("--shard %s: %v", c.String("shard"), err)
	}
	if opt.Log == "" {
		opt.Log = filepath.Join(opt.Out, "batch"+opt.Shard.Name()+".jsonl")
	}
	for _, own := range []struct{ flag, path string }{{"archive", c.String("archive")}, {"log", opt.Log}} {
		if betweenOutputs(own.path, opt.Out) {
			return opt, usagef("--%s %s: a job's outputs could take its place: put it into %s itself or elsewhere", own.flag, own.path, opt.Out)
		}
	}
	if opt.Formats, err = formatOptions(c); err != nil {
		return opt, err
	}
	references, err := givenReferences(c.StringSlice("reference"))
	if err != nil {
		return opt, err
	}
	if err := checkedFlags(c); err != nil {
		return opt, err
	}
	opt.Settings = givenFlags(c)
	if opt.Program, err = programPrint(); err != nil {
		return opt, err
	}
	asMap := func(j batch.Job) mapOptions {
		return mapOptions{traces: j.Tables, jobFile: j.JobFile, gnssLogs: j.GNSSLogs, references: references,
			override: func(job *trace.Job) error { return applyJobFlags(c, job) }}
	}
	opt.Load = func(j batch.Job) (intake.LoadOptions, error) {
		one := asMap(j)
		job, _, jobInput, err := readJob(one)
		return loadOptions(one, job, j.Name, jobInput), err
	}
	opt.Paths = func(j batch.Job, job trace.Job) []string { return inputPaths(asMap(j), job) }
	return opt, nil
}

// checkedFlags tries the settings on a job of none but defaults: a mistake in them
// is wrong usage, and no failure of every job.
func checkedFlags(c *cli.Context) error {
	job := trace.DefaultJob()
	return applyJobFlags(c, &job)
}

// betweenOutputs reports whether a file lies below the folder of outputs and not
// in it itself.
func betweenOutputs(path, out string) bool {
	if path == "" || strings.Contains(path, "://") {
		return false
	}
	abs, errA := filepath.Abs(path)
	absOut, errB := filepath.Abs(out)
	rel, errC := filepath.Rel(absOut, abs)
	return errors.Join(errA, errB, errC) == nil && filepath.IsLocal(rel) && filepath.Dir(rel) != "."
}

// givenFlags are the settings that were given, as far as an output depends on them.
func givenFlags(c *cli.Context) string {
	var b strings.Builder
	for _, f := range c.Command.Flags {
		if name := f.Names()[0]; c.IsSet(name) && !slices.Contains(notOfTheMap, name) {
			fmt.Fprintf(&b, "%s=%q\n", name, fmt.Sprint(c.Value(name)))
		}
	}
	return b.String()
}

// programPrint is the fingerprint of the program itself.
func programPrint() (string, error) {
	path, err := os.Executable()
	if err != nil {
		return "", fmt.Errorf("the program cannot find itself, and so cannot tell what it has made before: %w", err)
	}
	f, err := os.Open(path)
	if err != nil {
		return "", openError(path, err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", openError(path, err)
	}
	return fmt.Sprintf("%s %x", version, h.Sum(nil)), nil
}
