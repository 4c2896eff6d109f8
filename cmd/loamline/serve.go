package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"loamline.example/cmd/loamline/internal/serve"
	"loamline.example/cmd/loamline/internal/serve/door"
	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/trace"
)

func serveCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:  "serve",
		Usage: "the same job behind a web page, for people without a terminal",
		Description: "Answers on this computer only, unless --listen says otherwise; then users must " +
			"sign in and the connection must be encrypted. The API is described at /api/openapi.yaml." +
			examples("loamline serve", "loamline serve --listen 127.0.0.1:9000 --data jobs",
				"loamline serve --listen :8443 --users users.txt --tls-cert cert.pem --tls-key key.pem"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "listen", Usage: "`ADDRESS` and port", Value: "127.0.0.1:8140"},
			&cli.BoolFlag{Name: "share", Usage: "let phones and others on the network in: with a certificate, and a token if nobody is named, made and kept beside the jobs"},
			&cli.BoolFlag{Name: "open", Usage: "open the page in the browser, with a button on it that stops the program; this is also what happens when the program is started from a file manager"},
			&cli.StringFlag{Name: "data", Usage: "`FOLDER` for the jobs; default: in the user's own configuration folder"},
			&cli.StringFlag{Name: "token-file", Usage: "`FILE` whose first line is the token that programs and people must give"},
			&cli.StringFlag{Name: "office", Usage: "job `FILE` of what all jobs of the office have in common (locator, units, tolerance rule, antenna gap, printed sheets): new jobs begin with it"},
			&cli.StringFlag{Name: "users", Usage: "`FILE` of users, name:hash or name:hash:group per line; --make-user prints such a line"},
			&cli.BoolFlag{Name: "hide-others", Usage: "jobs of other users and groups are not shown; else they can be looked at"},
			&cli.StringFlag{Name: "make-user", Usage: "print the line of a user `NAME` for --users, with the password read from standard input, and end"},
			&cli.StringFlag{Name: "tls-cert", Usage: "certificate `FILE` (PEM)"},
			&cli.StringFlag{Name: "tls-key", Usage: "key `FILE` (PEM) of the certificate"},
			&cli.BoolFlag{Name: "insecure-plain-http", Usage: "allow unencrypted access from other computers: passwords and traces can be read on the way"},
			&cli.Int64Flag{Name: "max-upload", Usage: "most `MEGABYTES` of one upload", Value: jobs.DefaultLimits.UploadBytes >> 20},
			&cli.IntFlag{Name: "max-rows", Usage: "most `ROWS` of one upload", Value: jobs.DefaultLimits.Rows},
			&cli.Int64Flag{Name: "max-folder", Usage: "most `MEGABYTES` of all jobs together", DefaultText: "what the disk has"},
			&cli.BoolFlag{Name: "check", Usage: "read everything that is stored, tell what was altered, truncated or lost, and end"},
			&cli.IntFlag{Name: "at-once", Usage: "how many `MAPS` are made at the same time", DefaultText: "one a core, at most 4"},
			&cli.BoolFlag{Name: "verbose", Usage: "log more"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return usagef("serve takes no files: upload them on the page")
			}
			if name := c.String("make-user"); name != "" {
				return makeUser(name, std)
			}
			opt, shared, err := serveOptions(c, std)
			if err != nil {
				return err
			}
			if c.Bool("check") {
				return checkFolder(c.Context, opt, std)
			}
			ctx, stop := context.WithCancel(c.Context)
			defer stop()
			if c.Bool("open") {
				if here := "http://" + opt.Listen + "/"; answersAlready(here) {
					fmt.Fprintf(std.out, "loamline answers at %s already\n", here)
					return openBrowser(here)
				}
				opt.Stop = stop
			}
			return serve.Run(ctx, opt, func(url string, others []string) {
				fmt.Fprintf(std.out, "loamline answers at %s\njobs are kept in %s\n", url, opt.DataDir)
				if c.Bool("open") {
					fmt.Fprintln(std.out, "Stop it with the button at the foot of the page, or with Ctrl+C here.")
					if err := openBrowser(url); err != nil {
						opt.Log.Error(err.Error())
					}
				}
				if shared != nil {
					tellShared(std.out, *shared, others)
				}
			})
		},
	}
}

func serveOptions(c *cli.Context, std streams) (serve.Options, *serve.Shared, error) {
	level := slog.LevelInfo
	if c.Bool("verbose") {
		level = slog.LevelDebug
	}
	opt := serve.Options{
		Listen: c.String("listen"), DataDir: c.String("data"), Version: version, CertFile: c.String("tls-cert"), KeyFile: c.String("tls-key"),
		InsecurePlain: c.Bool("insecure-plain-http"), HideOthers: c.Bool("hide-others"), Log: slog.New(slog.NewTextHandler(std.err, &slog.HandlerOptions{Level: level})),
		Limits: jobs.Limits{UploadBytes: c.Int64("max-upload") << 20, Rows: c.Int("max-rows"), FolderBytes: c.Int64("max-folder") << 20}, Maker: jobs.MakerOptions{AtOnce: c.Int("at-once")},
	}
	var err error
	if opt.DataDir == "" {
		if opt.DataDir, err = serve.DefaultDataDir(); err != nil {
			return opt, nil, err
		}
	}
	if path := c.String("token-file"); path != "" {
		if opt.Token, err = readToken(path); err != nil {
			return opt, nil, err
		}
	}
	if path := c.String("users"); path != "" {
		if opt.Users, opt.Groups, err = readUsers(path); err != nil {
			return opt, nil, err
		}
	}
	if path := c.String("office"); path != "" {
		if opt.Office, err = readOffice(path); err != nil {
			return opt, nil, err
		}
	}
	var shared *serve.Shared
	if c.Bool("share") {
		if !c.IsSet("listen") {
			opt.Listen = "0.0.0.0:8140"
		}
		made, err := opt.Share()
		if err != nil {
			return opt, nil, err
		}
		shared = &made
	}
	if opt.KeyFile != "" {
		if err := secretFile(opt.KeyFile); err != nil {
			return opt, nil, err
		}
	}
	if err := opt.Check(); err != nil {
		return opt, nil, usageError{err}
	}
	return opt, shared, nil
}

// tellShared says how others come in.
func tellShared(out io.Writer, shared serve.Shared, others []string) {
	if len(others) == 0 {
		fmt.Fprintln(out, "no address of this computer is known by which others could reach it: join a network and start again")
		return
	}
	fmt.Fprintln(out, "\nOthers on the network open one of these, on a phone by the code:")
	for _, u := range others {
		fmt.Fprintf(out, "  %s/\n", u)
	}
	if code, err := serve.QRText(others[0] + "/"); err == nil {
		fmt.Fprint(out, code)
	}
	if shared.Token != "" {
		fmt.Fprintf(out, "They sign in with this token: %s\n", shared.Token)
	}
	if shared.Fingerprint != "" {
		fmt.Fprintf(out, "The browser warns once, for the certificate was made here. Let it go on if it shows this SHA-256 fingerprint:\n  %s\n", shared.Fingerprint)
	}
	if shared.New {
		fmt.Fprintln(out, "The certificate is new: phones that came in before warn once more.")
	}
}

// checkFolder tells what is not as it was stored.
func checkFolder(ctx context.Context, opt serve.Options, std streams) error {
	store, err := jobs.OpenStore(opt.DataDir, opt.Version, opt.Limits, trace.DefaultJob(), opt.Log)
	if err != nil {
		return err
	}
	defer store.Close()
	troubles, err := store.Check(ctx)
	if err != nil {
		return err
	}
	for _, t := range troubles {
		where := t.Job
		if t.Where != "" {
			where += ", " + t.Where
		}
		fmt.Fprintf(std.out, "%s: %s\n", where, t.Words)
	}
	if len(troubles) > 0 {
		return fmt.Errorf("%d of the stored files and records are not as they were stored: upload the originals again, and look at the disk", len(troubles))
	}
	_, total := store.Search(jobs.Query{})
	fmt.Fprintf(std.out, "%d jobs, and everything is as it was stored\n", total)
	return nil
}

// minToken is how short a token may be.
const minToken = 20

func readToken(path string) (string, error) {
	if err := secretFile(path); err != nil {
		return "", err
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return "", openError(path, err)
	}
	line, _, _ := strings.Cut(string(text), "\n")
	token := strings.TrimSpace(line)
	if len(token) < minToken {
		return "", fmt.Errorf("%s: the token has %d characters: take at least %d random ones", path, len(token), minToken)
	}
	return token, nil
}

// secretFile refuses a file of secrets that others on this computer can read.
func secretFile(path string) error {
	if _, err := os.Stat(path); err != nil {
		return openError(path, err)
	}
	return door.SecretFile(path)
}

// readUsers reads a user list, and the groups of those who have one; lines that
// start with # are skipped.
func readUsers(path string) (users, groups map[string]string, err error) {
	if err := secretFile(path); err != nil {
		return nil, nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, openError(path, err)
	}
	defer f.Close()
	users, groups = map[string]string{}, map[string]string{}
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(lines.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		name, rest, ok := strings.Cut(line, ":")
		hash, group, _ := strings.Cut(rest, ":")
		if err := door.CheckHash(hash); !ok || name == "" || err != nil {
			return nil, nil, fmt.Errorf("%s:%d: this is not a user: write name:hash, as --make-user prints it, and :group behind it for people who share jobs", path, n)
		}
		users[name] = hash
		if group != "" {
			groups[name] = group
		}
	}
	if len(users) == 0 && lines.Err() == nil {
		return nil, nil, fmt.Errorf("%s: there is no user in it: add one that --make-user prints", path)
	}
	return users, groups, lines.Err()
}

func makeUser(name string, std streams) error {
	if strings.ContainsAny(name, ": \t#") {
		return usagef("--make-user %q: a name has no colon, blank or #", name)
	}
	line, err := bufio.NewReader(std.in).ReadString('\n')
	if err != nil && err != io.EOF {
		return err
	}
	hash, err := door.MakeHash(strings.TrimRight(line, "\r\n"))
	if err != nil {
		return err
	}
	fmt.Fprintf(std.out, "%s:%s\n", name, hash)
	return nil
}
