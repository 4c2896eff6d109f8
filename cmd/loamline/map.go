package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/cmd/loamline/internal/summary"
	"loamline.example/export"
	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/locate"
)

// mapOptions is the main job as asked for on the command line.
type mapOptions struct {
	traces     []string
	jobFile    string
	outDir     string
	write      []string
	references []trace.Reference
	gnssLogs   []string
	underlay   string // named on the command line, so relative to where that is
	archive    string
	strict     bool
	quiet      bool
	verbose    bool
	override   func(*trace.Job) error
	formats    func() (export.JobOptions, error)
}

func mapCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:      "map",
		Usage:     "make the map of a job from its readings",
		ArgsUsage: "TRACE.csv…",
		Description: "Reads one or more readings tables, cleans and fits every line in them, looks for " +
			"bleed-over, and writes <job>.geojson and <job>.kml beside whatever --write names.\n\n" + statusWords() +
			examples("loamline map readings.csv", "loamline map day1.csv day2.csv --job job.toml --out maps --write pdf,html",
				"loamline map readings.csv --reference town-gas.geojson --units us --verbose",
				"loamline map readings.csv --datum 'NAD83(2011)' --output-crs EPSG:6347 --write gpkg,csv",
				"loamline map readings.csv --language en+es --write pdf,html --sheets crew"),
		Flags: slices.Concat(under("1. WHAT GOES IN", append([]cli.Flag{
			&cli.StringFlag{Name: "job", Usage: "job `FILE` (TOML) with the settings of this job"},
			&cli.StringSliceFlag{Name: "reference", Usage: "`LAYER` of known lines, as neighbours and for comparison: a GeoJSON, GeoPackage or Shapefile, or postgres://host/database?table=schema.table"},
			&cli.StringSliceFlag{Name: "gnss-log", Usage: "NMEA 0183 or GPX `FILE` with positions for readings that have only a time"},
			&cli.StringFlag{Name: "archive", Usage: "`ARCHIVE` of earlier jobs (a .gpkg file or postgres://…): its lines are neighbours, and this job is kept in it"},
		}, underlayFlags()...)), under("2. WHAT COMES OUT", []cli.Flag{
			&cli.StringFlag{Name: "out", Usage: "`FOLDER` for the outputs", Value: "."},
			&cli.StringSliceFlag{Name: "write", Usage: "further outputs, comma-separated: " + formatHelp()},
			&cli.BoolFlag{Name: "strict", Usage: "end with status 3 if something in the map needs review"},
			&cli.BoolFlag{Name: "quiet", Usage: "print no summary"},
			&cli.BoolFlag{Name: "verbose", Usage: "print all that is known of every line, instead of one row per line"},
		}), under("3. THE JOB, where its file says otherwise or there is none", jobFlags()), under("4. HOW THE OUTPUTS ARE MADE", formatFlags())),
		Action: func(c *cli.Context) error {
			if c.NArg() == 0 {
				return usagef("map needs at least one readings table")
			}
			references, err := givenReferences(c.StringSlice("reference"))
			if err != nil {
				return err
			}
			return asGiven(c, runMap(c.Context, mapOptions{
				traces: c.Args().Slice(), jobFile: c.String("job"), outDir: c.String("out"),
				write: splitList(c.StringSlice("write")), references: references,
				gnssLogs: c.StringSlice("gnss-log"), underlay: c.String("underlay"), archive: c.String("archive"), strict: c.Bool("strict"), quiet: c.Bool("quiet"), verbose: c.Bool("verbose"),
				override: func(j *trace.Job) error { return applyJobFlags(c, j) },
				formats:  func() (export.JobOptions, error) { return formatOptions(c) },
			}, std))
		},
	}
}

func splitList(given []string) []string {
	var out []string
	for _, g := range given {
		for _, w := range strings.Split(g, ",") {
			if w = strings.TrimSpace(w); w != "" && !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
	}
	return out
}

// runMap is the main job: read, build, write, tell.
func runMap(ctx context.Context, opt mapOptions, std streams) error {
	if err := knownFormats(opt.write); err != nil {
		return err
	}
	if opt.quiet && opt.verbose {
		return usagef("--quiet and --verbose: take one of them")
	}
	formats, err := opt.formats()
	if err != nil {
		return err
	}
	job, name, jobInput, err := readJob(opt)
	if err != nil {
		return err
	}
	if err := keepInputs(name, opt, job); err != nil {
		return err
	}
	src, err := intake.Load(ctx, loadOptions(opt, job, name, jobInput))
	if err != nil {
		return err
	}
	arch, err := openArchive(ctx, opt.archive)
	if err != nil {
		return err
	}
	defer arch.close()
	src.Nearby = arch.nearby(src)
	bar := newProgress(std.err, opt.quiet)
	src.Progress = bar.step
	sheet, err := locate.Build(ctx, src)
	bar.done(err == nil)
	if err != nil {
		return err
	}
	if c := formats.GeoPackage.Frame.CRS; c.Code != 0 && !c.Holds(sheet.Plane.Origin()) {
		return locate.OutsideProblem("--gpkg-crs", c, sheet.Plane.Origin())
	}
	replaced, err := replaces(sheet, opt.outDir)
	if err != nil {
		return err
	}
	written, err := export.WriteJob(ctx, sheet, opt.outDir, opt.write, formats)
	if err != nil {
		return err
	}
	if replaced != "" {
		fmt.Fprintln(std.err, replaced)
	}
	kept, err := arch.keep(ctx, sheet)
	if err != nil {
		// Not wrapped: a stop here is none before which nothing was written.
		return fmt.Errorf("the map is written, but not archived: %v", err)
	}
	switch {
	case opt.verbose:
		summary.Whole(std.out, sheet, written)
	case !opt.quiet:
		summary.Short(std.out, sheet, written)
		if kept != "" {
			fmt.Fprintf(std.out, "archive: %s\n", kept)
		}
	}
	if opt.strict && needsEyes(sheet) {
		return errNeedsEyes
	}
	return nil
}

// knownFormats refuses outputs that there are not.
func knownFormats(write []string) error {
	for _, w := range write {
		if !export.IsFormat(w) {
			return usagef("--write %s: no such output; there are %s", w, strings.Join(export.FormatNames(), ", "))
		}
	}
	return nil
}

// loadOptions opens what goes into a job.
func loadOptions(opt mapOptions, job trace.Job, name string, jobInput *intake.File) intake.LoadOptions {
	out := intake.LoadOptions{Name: name, Version: version, Job: job, JobInput: jobInput,
		Tables: filesOnDisk(opt.traces), GNSSLogs: filesOnDisk(opt.gnssLogs), References: referenceFiles(opt, job)}
	out.Underlay = underlayFile(opt, job)
	return out
}

// readJob reads the job file, if there is one, and lays the command line's
// settings over it. It also chooses the outputs' base name.
func readJob(opt mapOptions) (trace.Job, string, *intake.File, error) {
	job, name := trace.DefaultJob(), baseName(opt.traces[0])
	var input *intake.File
	if opt.jobFile != "" {
		name = baseName(opt.jobFile)
		f := fileOnDisk(opt.jobFile)
		input = &f
		r, err := f.Open()
		if err != nil {
			return job, "", nil, err
		}
		defer r.Close()
		if job, err = intake.ReadJobFile(r, f.Name); err != nil {
			return job, "", nil, err
		}
		job.Dir = filepath.Dir(opt.jobFile)
	}
	return job, name, input, opt.override(&job)
}

// baseName is a file's name without its ending; one that is all ending keeps it.
func baseName(path string) string {
	b := filepath.Base(path)
	if name := strings.TrimSuffix(b, filepath.Ext(b)); name != "" {
		return name
	}
	return b
}

// referenceFiles are the job file's layers, relative to it, and the command line's. One
// that is named twice is read once, as the job file describes it: a line that is there twice
// would be its own neighbour.
func referenceFiles(opt mapOptions, job trace.Job) []intake.ReferenceFile {
	var out []intake.ReferenceFile
	for i, r := range job.References {
		if !slices.Contains(job.References[:i], r) {
			out = append(out, intake.ReferenceOf(r, func() intake.File { return layerOnDisk(referencePath(r, job)) }))
		}
	}
	for i, r := range opt.references {
		named := slices.ContainsFunc(job.References, func(j trace.Reference) bool {
			return j.Table == r.Table && sameLayer(referencePath(j, job), j.File, r)
		}) || slices.ContainsFunc(opt.references[:i], func(o trace.Reference) bool { return o.Table == r.Table && sameLayer(o.File, o.File, r) })
		if !named {
			out = append(out, intake.ReferenceOf(r, func() intake.File { return layerOnDisk(r.File) }))
		}
	}
	return out
}

// sameLayer reports whether a layer at a path, or at an address of a database, is another one.
func sameLayer(path, address string, r trace.Reference) bool {
	if r.InDatabase() {
		return address == r.File
	}
	a, errA := os.Stat(path)
	b, errB := os.Stat(r.File)
	return errA == nil && errB == nil && os.SameFile(a, b)
}

// givenReferences are the layers named on the command line: files, or a database's
// address with its table in it.
func givenReferences(given []string) ([]trace.Reference, error) {
	var out []trace.Reference
	for _, g := range given {
		r := trace.Reference{File: g, Utility: trace.UnknownKind}
		if r.InDatabase() {
			if err := intake.TableInAddress(&r); err != nil {
				return nil, usagef("--reference: %w: write postgres://host/database?table=schema.table", err)
			}
		}
		out = append(out, r)
	}
	return out, nil
}

// layerOnDisk is a file with those beside it that belong to it.
func layerOnDisk(path string) intake.File {
	f := fileOnDisk(path)
	f.Beside = func(ending string) (intake.File, bool) {
		stem := strings.TrimSuffix(path, filepath.Ext(path))
		if strings.HasPrefix(ending, "-") {
			stem = path // a journal has the whole name before its ending
		}
		for _, e := range []string{ending, strings.ToUpper(ending)} {
			if info, err := os.Stat(stem + e); err == nil && info.Mode().IsRegular() {
				return fileOnDisk(stem + e), true
			}
		}
		return intake.File{}, false
	}
	return f
}

func referencePath(r trace.Reference, job trace.Job) string {
	if r.InDatabase() {
		return ""
	}
	return besideJobFile(r.File, job)
}

// besideJobFile is a file that a job file names.
func besideJobFile(name string, job trace.Job) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(job.Dir, name)
}

func filesOnDisk(paths []string) []intake.File {
	out := make([]intake.File, len(paths))
	names := distinctNames(paths)
	for i, p := range paths {
		out[i] = fileOnDisk(p)
		out[i].Name = names[i]
	}
	return out
}

func fileOnDisk(path string) intake.File {
	size := int64(0)
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		size = info.Size()
	}
	return intake.File{Name: filepath.Base(path), Size: size, Open: func() (io.ReadCloser, error) {
		if isFolder(path) {
			return nil, fmt.Errorf("%s: this is a folder: name the table in it, or take 'loamline batch %s' for all jobs in it", path, path)
		}
		f, err := os.Open(path)
		if err != nil {
			return nil, openError(path, err)
		}
		return f, nil
	}}
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

func openError(path string, err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("%s: %w: check the file's name and that it may be read", path, err)
}

// needsEyes reports whether a map says something about itself that a person must
// look at before it is passed on: what stands under 'Check before digging', but for
// the frame's line, which every map without a stated datum has. What is told nowhere
// there is no reason to stop.
func needsEyes(s *trace.Sheet) bool {
	return slices.ContainsFunc(s.Advice, func(a trace.Advice) bool { return a.Kind != trace.AdviseFrame })
}
