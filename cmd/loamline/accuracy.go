package main

import (
	"runtime"
	"slices"

	"github.com/urfave/cli/v2"

	"loamline.example/export"
	"loamline.example/export/geojson"
	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/measure"
)

// accuracyCommand measures the program against simulated truth and writes the
// tables that are committed as testdata/accuracy.md.
func accuracyCommand() *cli.Command {
	return &cli.Command{
		Name:  "accuracy",
		Usage: "measure centerlines, bands and bleed-over against simulated truth",
		Description: "Makes jobs of every family (see simulate --list), maps each from the bytes of its files, " +
			"and compares with the truth. Seeds from 1000000 on are kept for this: nothing is tuned on them." +
			examples("loamline accuracy --only fit --family elbow-90 --seeds 1 --first-seed 4", "loamline accuracy --out testdata/accuracy.md"),
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "seeds", Value: 40, Usage: "jobs a family"},
			&cli.Uint64Flag{Name: "first-seed", Value: measure.UnseenSeed, Usage: "seed of a family's first job"},
			&cli.StringFlag{Name: "world", Value: "both", Usage: "measure on the `first` world, the second or both"},
			&cli.StringSliceFlag{Name: "family", Usage: "only this `FAMILY`; may be repeated"},
			&cli.StringFlag{Name: "only", Usage: "measure only `fit` or bleed"},
			&cli.BoolFlag{Name: "cases", Usage: "list the worst jobs instead of the tables"},
			&cli.StringFlag{Name: "out", Usage: "write to this `FILE` instead of the terminal"},
		},
		Action: func(c *cli.Context) error {
			opt := measure.Options{
				FirstSeed: c.Uint64("first-seed"), Seeds: c.Int("seeds"),
				Families: c.StringSlice("family"), Workers: runtime.GOMAXPROCS(0),
				GeoJSON: geojson.Write,
			}
			switch only := c.String("only"); only {
			case "":
			case "fit":
				opt.FitOnly = true
			case "bleed":
				opt.BleedOnly = true
			default:
				return usagef("--only %s: fit or bleed", only)
			}
			if opt.Seeds < 1 {
				return usagef("--seeds %d: at least 1", opt.Seeds)
			}
			opt.Worlds = measure.Worlds
			if name := c.String("world"); name != "both" {
				w, err := worldNamed(name)
				if err != nil {
					return err
				}
				opt.Worlds = []measure.World{w}
			}
			for _, f := range opt.Families {
				if !slices.ContainsFunc(opt.Worlds, func(w measure.World) bool { return has(w, f) }) {
					return usagef("--family %s: no such family; simulate --list shows them, with --world second the second world's", f)
				}
			}
			return accuracy(c, opt, c.Bool("cases"), c.String("out"))
		},
	}
}

func has(w measure.World, family string) bool {
	return slices.ContainsFunc(w.Families(), func(f tracetest.Family) bool { return f.Name == family })
}

// accuracy measures first and writes last, so that a run that is stopped
// leaves the old tables alone.
func accuracy(c *cli.Context, opt measure.Options, cases bool, out string) error {
	report, err := measure.All(c.Context, opt)
	if err != nil {
		return err
	}
	write := report.Write
	if cases {
		write = report.WriteCases
	}
	if out == "" {
		return write(c.App.Writer)
	}
	return export.WriteFiles([]export.Output{{Path: out, Write: write}})
}
