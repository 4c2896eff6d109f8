package main

import (
	_ "embed"
	"io"
	"runtime/debug"

	"github.com/urfave/cli/v2"
)

// notices is the licence of the program and of everything that is in it; the
// command that makes it is in .ci/notices.
//
//go:embed notices.txt
var notices string

func licensesCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:        "licenses",
		Usage:       "print the licences of the program and of what is in it",
		Description: "The texts of all modules that are linked, of Leaflet in the page and of the fonts in the printed sheet." + examples("loamline licenses"),
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return usagef("licenses takes no argument %q", c.Args().First())
			}
			_, err := io.WriteString(std.out, notices)
			return err
		},
	}
}

// versionWords is the version with the commit that it was built from, where the
// build recorded one.
func versionWords() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	return version + " (" + commitWords(info.Settings) + ")"
}

func commitWords(settings []debug.BuildSetting) string {
	commit, changed := "", ""
	for _, s := range settings {
		switch {
		case s.Key == "vcs.revision":
			commit = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", with changes"
		}
	}
	if commit == "" {
		return "commit not recorded"
	}
	return "commit " + commit + changed
}
