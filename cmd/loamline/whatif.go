package main

import (
	"bytes"
	"math"
	"math/cmplx"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/cmd/loamline/internal/summary"
	"loamline.example/export"
	"loamline.example/geo"
	"loamline.example/trace/receiver"
)

// whatIf is a cut across buried lines and how it is looked at.
type whatIf struct {
	section receiver.Section // the line under test first, at x = 0
	gapM    float64
	liftM   float64
	units   geo.Units
}

// whatIfCommand shows what a locator would see over given lines: to plan with,
// and to teach with.
func whatIfCommand() *cli.Command {
	return &cli.Command{
		Name:  "whatif",
		Usage: "show what a locator would see over lines of given depth, spacing and current",
		Description: "Computes the field of long parallel lines across the ground: where peak and null fall, and " +
			"how wrong depth and current read. A neighbour is SPACING,DEPTH,SHARE[,PHASE]: metres or another " +
			"unit to the right (negative: left), depth to centre, the part of the line's current that it " +
			"carries (negative: flowing back), and degrees out of phase." +
			examples(`loamline whatif --depth "1 m" --neighbor "0.8 m, 1.1 m, 0.4" --svg field.svg`),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "depth", Value: "1 m", Usage: "`LENGTH` from the ground to the line's centre"},
			&cli.Float64Flag{Name: "current", Value: 100, Usage: "in the line, `mA`"},
			&cli.GenericFlag{Name: "neighbor", Value: &texts{}, Usage: "another line: `SPACING,DEPTH,SHARE[,PHASE]`; may be repeated"},
			&cli.StringFlag{Name: "antenna-gap", Value: "0.4 m", Usage: "`LENGTH` from the bottom to the top antenna"},
			&cli.StringFlag{Name: "lift", Value: "0.3 m", Usage: "`LENGTH` of the lift test"},
			&cli.StringFlag{Name: "units", Value: "metric", Usage: "metric or us"},
			&cli.StringFlag{Name: "svg", Usage: "also plot the field to this `FILE`"},
		},
		Action: func(c *cli.Context) error {
			w, err := readWhatIf(c)
			if err != nil {
				return err
			}
			return runWhatIf(c, w, c.String("svg"))
		},
	}
}

// texts collects a repeated flag as it stands: a neighbour has commas in it,
// at which a slice flag would cut.
type texts []string

func (t *texts) Set(s string) error { *t = append(*t, s); return nil }
func (t *texts) String() string     { return strings.Join(*t, "; ") }

func readWhatIf(c *cli.Context) (whatIf, error) {
	w := whatIf{units: geo.Units(c.String("units"))}
	if c.NArg() > 0 {
		return w, usagef("whatif takes no argument %q: name it with a flag", c.Args().First())
	}
	if w.units != geo.Metric && w.units != geo.US {
		return w, usagef("--units %q: metric or us", c.String("units"))
	}
	depthM, err := lengthAbove("--depth", c.String("depth"))
	if err != nil {
		return w, err
	}
	if w.gapM, err = lengthAbove("--antenna-gap", c.String("antenna-gap")); err != nil {
		return w, err
	}
	if w.liftM, err = lengthAbove("--lift", c.String("lift")); err != nil {
		return w, err
	}
	amps := c.Float64("current") / 1000
	if !(amps > 0) || math.IsInf(amps, 0) {
		return w, usagef("--current %v: more than 0 mA", c.Float64("current"))
	}
	w.section.Lines = []receiver.Conductor{{DepthM: depthM, CurrentA: complex(amps, 0)}}
	for _, s := range *c.Generic("neighbor").(*texts) {
		n, err := readNeighbor(s, amps)
		if err != nil {
			return w, err
		}
		w.section.Lines = append(w.section.Lines, n)
	}
	return w, nil
}

// lengthAbove reads a length of more than nothing and less than 100 m.
func lengthAbove(name, s string) (float64, error) {
	m, err := geo.ParseLength(s)
	if err != nil {
		return 0, usagef("%s: %w", name, err)
	}
	if !(m > 0.01) || m > 100 {
		return 0, usagef("%s %s: more than 1 cm and at most 100 m", name, s)
	}
	return m, nil
}

func readNeighbor(s string, amps float64) (receiver.Conductor, error) {
	var n receiver.Conductor
	part := strings.Split(s, ",")
	if len(part) != 3 && len(part) != 4 {
		return n, usagef("--neighbor %q: write SPACING,DEPTH,SHARE[,PHASE], such as \"0.8 m, 1.1 m, 0.4\"", s)
	}
	var err error
	if n.XM, err = geo.ParseLength(part[0]); err != nil {
		return n, usagef("--neighbor %q: spacing: %w", s, err)
	}
	if math.Abs(n.XM) > 100 {
		return n, usagef("--neighbor %q: spacing: at most 100 m", s)
	}
	if n.DepthM, err = lengthAbove("--neighbor "+strconv.Quote(s)+": depth", part[1]); err != nil {
		return n, err
	}
	var number [2]float64
	for i, p := range part[2:] {
		if number[i], err = strconv.ParseFloat(strings.TrimSpace(p), 64); err != nil || !(math.Abs(number[i]) <= 360) {
			return n, usagef("--neighbor %q: %q is not a number: the share is a part of the line's current (0.4), the phase degrees", s, strings.TrimSpace(p))
		}
	}
	share := complex(number[0], 0)
	if number[1] != 0 {
		share = cmplx.Rect(number[0], number[1]*math.Pi/180)
	}
	n.CurrentA = share * complex(amps, 0)
	return n, nil
}

func runWhatIf(c *cli.Context, w whatIf, svgFile string) error {
	if svgFile != "" {
		var b bytes.Buffer
		w.plot(&b)
		if err := export.WriteFiles([]export.Output{{Path: svgFile, Write: writes(b.Bytes())}}); err != nil {
			return err
		}
	}
	var b bytes.Buffer
	w.report(&b)
	summary.Write(c.App.Writer, b.String())
	return nil
}
