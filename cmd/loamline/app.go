package main

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/trace/spelling"
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
	ordered := flagsFirst(app, args)
	if err := givenTwice(app, ordered); err != nil {
		return statusOf(err, helpOf(app, args), std.err)
	}
	return statusOf(app.RunContext(ctx, ordered), helpOf(app, args), std.err)
}

// noCommand says which command is likely meant.
func noCommand(app *cli.App, name string) error {
	var names []string
	for _, c := range app.VisibleCommands() {
		names = append(names, c.Name)
	}
	return usagef("there is no command %q%s", name, didYouMean("", spelling.Nearest(name, names)))
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
	return usagef("there is no flag --%s%s", name, didYouMean("--", spelling.Nearest(name, names)))
}

// flagsFirst moves a command's flags before its file names, for people write
// them in either order and the flag parser stops at the first name.
func flagsFirst(app *cli.App, args []string) []string {
	if len(args) < 3 || args[len(args)-1] == "--generate-bash-completion" {
		return args // a shell asks what may come here
	}
	cmd, head := commandOf(app, args)
	if cmd == nil {
		return args
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

// commandOf is the command that is asked for, nil for none, and how many of the arguments
// name it.
func commandOf(app *cli.App, args []string) (cmd *cli.Command, head int) {
	cmd, head = app.Command(args[1]), 2
	if cmd == nil {
		return nil, 0
	}
	for _, sub := range cmd.Subcommands {
		if sub.HasName(args[2]) {
			return sub, 3
		}
	}
	return cmd, head
}

// givenTwice refuses a flag that has one value and is given another one: the parser would
// take the last without a word, and a map would be made by half of what was said.
func givenTwice(app *cli.App, args []string) error {
	if len(args) < 3 || args[len(args)-1] == "--generate-bash-completion" {
		return nil
	}
	cmd, head := commandOf(app, args)
	if cmd == nil {
		return nil
	}
	values := map[string]string{}
	for i := head; i < len(args) && args[i] != "--"; i++ {
		name, value, has := strings.Cut(strings.TrimLeft(args[i], "-"), "=")
		f := flagOf(cmd, name)
		if f == nil || !takesValue(cmd, name) {
			continue
		}
		if !has && i+1 < len(args) {
			i++
			value = args[i]
		}
		if doc, ok := f.(cli.DocGenerationSliceFlag); ok && doc.IsSliceFlag() {
			continue
		}
		name = f.Names()[0]
		if before, again := values[name]; again && before != value {
			return usagef("--%s is given twice, as %q and as %q: it takes one value; remove one of them", name, before, value)
		}
		values[name] = value
	}
	return nil
}

// flagOf is a command's flag of a name, nil for none.
func flagOf(cmd *cli.Command, name string) cli.Flag {
	for _, f := range cmd.Flags {
		if slices.Contains(f.Names(), name) {
			return f
		}
	}
	return nil
}

func takesValue(cmd *cli.Command, name string) bool {
	doc, ok := flagOf(cmd, name).(cli.DocGenerationFlag)
	return ok && doc.TakesValue()
}
