package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/export"
	"loamline.example/export/archive"
)

func archiveCommand(std streams) *cli.Command {
	version := &cli.IntFlag{Name: "version", Usage: "`NUMBER` of the version, as show lists them", DefaultText: "the newest"}
	verbs := []*cli.Command{
		{
			Name: "list", Usage: "list the jobs that an archive keeps", ArgsUsage: "ARCHIVE",
			Description: "Example:\n\n    loamline archive list city.gpkg --all",
			Flags:       []cli.Flag{&cli.BoolFlag{Name: "all", Usage: "also those that were removed"}},
			Action: archiveAction(1, func(c *cli.Context, a archive.Archive, _ string) error {
				return listArchive(c.Context, a, c.Bool("all"), std.out)
			}),
		}, {
			Name: "show", Usage: "show a job's versions: when each was kept, what had changed, by which settings", ArgsUsage: "ARCHIVE JOB",
			Description: "Example:\n\n    loamline archive show city.gpkg 'T-2041 / lantern-row'",
			Action: archiveAction(2, func(c *cli.Context, a archive.Archive, key string) error {
				return showJob(c.Context, a, key, std.out)
			}),
		}, {
			Name: "export", Usage: "write a job's GeoJSON as it was made", ArgsUsage: "ARCHIVE JOB",
			Description: "Example:\n\n    loamline archive export city.gpkg 'T-2041 / lantern-row' --version 1 --out earlier",
			Flags:       []cli.Flag{&cli.StringFlag{Name: "out", Usage: "`FOLDER` for the file", Value: "."}, version},
			Action: archiveAction(2, func(c *cli.Context, a archive.Archive, key string) error {
				return exportJob(c.Context, a, key, c.Int("version"), c.String("out"), std.out)
			}),
		}, {
			Name: "remove", Usage: "take a job out; its versions stay, and restore brings them back", ArgsUsage: "ARCHIVE JOB",
			Description: "Example:\n\n    loamline archive remove city.gpkg 'T-2041 / lantern-row' --yes",
			Flags:       []cli.Flag{&cli.BoolFlag{Name: "yes", Usage: "do not ask"}},
			Action: archiveAction(2, func(c *cli.Context, a archive.Archive, key string) error {
				return removeJob(c.Context, a, key, c.Bool("yes"), std)
			}),
		}, {
			Name: "restore", Usage: "make an earlier version of a job the newest, or bring back a removed job", ArgsUsage: "ARCHIVE JOB",
			Description: "Example:\n\n    loamline archive restore city.gpkg 'T-2041 / lantern-row' --version 1",
			Flags:       []cli.Flag{version},
			Action: archiveAction(2, func(c *cli.Context, a archive.Archive, key string) error {
				return restoreJob(c.Context, a, key, c.Int("version"), std.out)
			}),
		},
	}
	for _, v := range verbs {
		v.OnUsageError = asUsageError
	}
	return &cli.Command{
		Name:      "archive",
		Usage:     "look after the jobs that an archive keeps",
		ArgsUsage: "ARCHIVE",
		Description: "An archive is a .gpkg file or a PostGIS database (postgres://user@host/name). loamline map " +
			"--archive ARCHIVE takes the lines of earlier jobs in it as neighbours and keeps the job in it. " +
			"The same readings again, or the same --job-id, make a new version of their job; the earlier " +
			"version stays in its history. Any other job is kept beside it, whatever it is called." +
			examples("loamline map readings.csv --archive city.gpkg", "loamline archive city.gpkg"),
		Subcommands: verbs,
		Action:      verbs[0].Action,
	}
}

// archiveAction opens the archive that is the first argument and does something
// with it; the second, where there is one, names a job.
func archiveAction(args int, do func(c *cli.Context, a archive.Archive, key string) error) cli.ActionFunc {
	return func(c *cli.Context) error {
		if c.NArg() != args {
			return usagef("this needs an archive (a .gpkg file or postgres://…)%s", map[bool]string{true: " and a job in it"}[args > 1])
		}
		where := c.Args().First()
		// To look into an archive must not make the one that a mistyped name asks for.
		if strings.HasSuffix(strings.ToLower(where), ".gpkg") {
			if _, err := os.Stat(where); err != nil {
				return openError(where, err)
			}
		}
		a, err := export.OpenArchive(c.Context, where)
		if err != nil {
			return err
		}
		defer a.Close()
		return do(c, a, c.Args().Get(1))
	}
}

func showJob(ctx context.Context, a archive.Archive, key string, out io.Writer) error {
	versions, err := a.Versions(ctx, key)
	if err != nil {
		return err
	}
	for i, v := range versions {
		state := ""
		switch {
		case i == 0 && v.Removed:
			state = ", removed"
		case i == 0:
			state = ", the newest"
		}
		kept := "kept " + v.KeptAt
		if v.KeptAt == "" {
			kept = "kept by an older loamline"
		}
		fmt.Fprintf(out, "%s, version %d%s: %s, ticket %q, date %s; %s\n", key, v.Version, state, v.Name, v.Ticket, v.Date, kept)
		fmt.Fprintf(out, "  told by %s\n", v.Identity)
		for _, c := range strings.Split(v.Changed, "\n") {
			if c != "" {
				fmt.Fprintf(out, "  changed: %s\n", c)
			}
		}
	}
	settings, err := archive.SettingsWords(versions[0].Settings)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "settings of version %d: %s\n", versions[0].Version, settings)
	return nil
}

// chosen is the version that is asked for, else the newest.
func chosen(ctx context.Context, a archive.Archive, key string, version int) (archive.Version, error) {
	versions, err := a.Versions(ctx, key)
	if err != nil {
		return archive.Version{}, err
	}
	for _, v := range versions {
		if version == 0 || v.Version == version {
			return v, nil
		}
	}
	return archive.Version{}, fmt.Errorf("job %q has no version %d: loamline archive show lists its versions", key, version)
}

func exportJob(ctx context.Context, a archive.Archive, key string, version int, dir string, out io.Writer) error {
	v, err := chosen(ctx, a, key, version)
	if err != nil {
		return err
	}
	geojson, err := a.Map(ctx, key, v.Version)
	if err != nil {
		return err
	}
	path := filepath.Join(dir, filepath.Base(v.Name)+".geojson")
	if err := export.WriteFiles([]export.Output{{Path: path, Write: func(w io.Writer) error {
		_, err := w.Write(geojson)
		return err
	}}}); err != nil {
		return err
	}
	fmt.Fprintf(out, "wrote %s: job %q, version %d\n", path, key, v.Version)
	return nil
}

func removeJob(ctx context.Context, a archive.Archive, key string, yes bool, std streams) error {
	v, err := chosen(ctx, a, key, 0)
	if err != nil {
		return err
	}
	if !yes {
		fmt.Fprintf(std.err, "Remove job %q (%s, ticket %q, date %s, version %d)? Its lines will no longer be neighbours; restore brings it back. [y/N] ",
			key, v.Name, v.Ticket, v.Date, v.Version)
		answer, _ := bufio.NewReader(std.in).ReadString('\n')
		if a := strings.ToLower(strings.TrimSpace(answer)); a != "y" && a != "yes" {
			return errors.New("nothing was removed; answer y, or give --yes in a script")
		}
	}
	if err := a.Remove(ctx, key); err != nil {
		return err
	}
	fmt.Fprintf(std.out, "removed job %q; loamline archive restore brings it back\n", key)
	return nil
}

// restoreJob brings back the version that is asked for; without one, the newest
// of a job that was removed.
func restoreJob(ctx context.Context, a archive.Archive, key string, version int, out io.Writer) error {
	v, err := chosen(ctx, a, key, version)
	if err != nil {
		return err
	}
	if version == 0 && !v.Removed {
		return usagef("job %q is there: say which earlier version to restore with --version", key)
	}
	kept, err := a.Restore(ctx, key, v.Version)
	if err != nil {
		return err
	}
	if kept.Unchanged {
		fmt.Fprintf(out, "version %d of job %q is already the newest\n", v.Version, key)
		return nil
	}
	fmt.Fprintf(out, "restored version %d of job %q as version %d\n", v.Version, key, kept.Version)
	return nil
}
