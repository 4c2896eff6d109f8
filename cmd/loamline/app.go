package main

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/trace/intake"
)

// version is what every output carries. Releases set it with -ldflags.
var version = "0.1.0"

// streams are the program's standard streams, injected for tests.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// run is the whole program but for the process around it. A panic is a failure
// like any other: left alone it would end with the status of wrong usage.
func run(ctx context.Context, args []string, std streams) (status int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(std.err, "loamline: the program failed, which is a fault in the program: please report it with the files and this:\n%v\n\n%s", p, debug.Stack())
			status = statusFailed
		}
	}()
	app := &cli.App{
		Name:        "loamline",
		Usage:       "turn the readings of a line locator into a map that can be defended",
		Version:     versionWords(),
		Reader:      std.in,
		Writer:      std.out,
		ErrWriter:   std.err,
		Description: statusWords() + examples("loamline map readings.csv --job job.toml --out maps --write pdf,html", "loamline map --help"),
		Commands: []*cli.Command{
			mapCommand(std),
			batchCommand(std),
			compareCommand(std),
			archiveCommand(std),
			whatIfCommand(),
			simulateCommand(),
			serveCommand(std),
			accuracyCommand(),
			templateCommand(std),
			licensesCommand(std),
			completionCommand(std),
			manCommand(std),
		},
		EnableBashCompletion: true,
		ExitErrHandler:       func(*cli.Context, error) {},
		OnUsageError:         asUsageError,
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return noCommand(c.App, c.Args().First())
			}
			return cli.ShowAppHelp(c)
		},
	}
	for _, c := range app.Commands {
		c.OnUsageError = asUsageError
	}
	return statusOf(app.RunContext(ctx, flagsFirst(app, args)), helpOf(app, args), std.err)
}

// noCommand says which command is likely meant.
func noCommand(app *cli.App, name string) error {
	var names []string
	for _, c := range app.VisibleCommands() {
		names = append(names, c.Name)
	}
	return usagef("there is no command %q%s", name, didYouMean("", intake.Nearest(name, names)))
}

func didYouMean(dashes, near string) string {
	if near == "" {
		return ""
	}
	return " (did you mean " + dashes + near + "?)"
}

// helpOf is the help for whoever called the program so.
func helpOf(app *cli.App, args []string) string {
	if len(args) > 1 && app.Command(args[1]) != nil {
		return "loamline " + args[1] + " --help"
	}
	return "loamline --help"
}

// unknownFlag is how the flag parser begins to say so.
const unknownFlag = "flag provided but not defined: -"

// asUsageError words a flag that there is none of as people write flags, with the one
// that is likely meant.
func asUsageError(c *cli.Context, err error, _ bool) error {
	name, unknown := strings.CutPrefix(err.Error(), unknownFlag)
	if !unknown || c.Command == nil {
		return usageError{err}
	}
	name = strings.TrimLeft(name, "-")
	var names []string
	for _, f := range c.Command.Flags {
		names = append(names, f.Names()...)
	}
	return usagef("there is no flag --%s%s", name, didYouMean("--", intake.Nearest(name, names)))
}

// flagsFirst moves a command's flags before its file names, for people write
// them in either order and the flag parser stops at the first name.
func flagsFirst(app *cli.App, args []string) []string {
	if len(args) < 3 || args[len(args)-1] == "--generate-bash-completion" {
		return args // a shell asks what may come here
	}
	cmd, head := app.Command(args[1]), 2
	if cmd == nil {
		return args
	}
	for _, sub := range cmd.Subcommands {
		if sub.HasName(args[2]) {
			cmd, head = sub, 3
			break
		}
	}
	var flags, names []string
	rest := args[head:]
	for i := 0; i < len(rest); i++ {
		a := rest[i]
		if a == "--" {
			names = append(names, rest[i+1:]...)
			break
		}
		if len(a) < 2 || a[0] != '-' {
			names = append(names, a)
			continue
		}
		flags = append(flags, a)
		if !strings.Contains(a, "=") && takesValue(cmd, strings.TrimLeft(a, "-")) && i+1 < len(rest) {
			i++
			flags = append(flags, rest[i])
		}
	}
	out := append(slices.Clone(args[:head]), flags...)
	if len(names) > 0 {
		out = append(append(out, "--"), names...)
	}
	return out
}

func takesValue(cmd *cli.Command, name string) bool {
	for _, f := range cmd.Flags {
		if slices.Contains(f.Names(), name) {
			doc, ok := f.(cli.DocGenerationFlag)
			return ok && doc.TakesValue()
		}
	}
	return false
}
