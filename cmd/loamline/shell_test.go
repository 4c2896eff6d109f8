package main

import (
	"bytes"
	"context"
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

func said(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(context.Background(), append([]string{"loamline"}, args...), streams{in: strings.NewReader(""), out: &out, err: &errs}); status != statusOK {
		t.Fatalf("%q: status %d: %s", args, status, errs.String())
	}
	return out.String()
}

var topCommands = regexp.MustCompile(`(?m)^   ([a-z]+)(?:, h)?  `)

// Every command's help has an example of that command, and every flag in it is
// one that the help lists.
func TestEveryCommandHasAnExample(t *testing.T) {
	_, list, _ := strings.Cut(said(t, "--help"), "COMMANDS:")
	list, _, _ = strings.Cut(list, "GLOBAL OPTIONS")
	found := topCommands.FindAllStringSubmatch(list, -1)
	if len(found) < 11 {
		t.Fatalf("%d commands in\n%s", len(found), list)
	}
	var names []string
	for _, m := range found {
		names = append(names, m[1])
	}
	_, parts, _ := strings.Cut(said(t, "archive", "--help"), "COMMANDS:")
	parts, _, _ = strings.Cut(parts, "OPTIONS:")
	for _, m := range topCommands.FindAllStringSubmatch(parts, -1) {
		if m[1] != "help" {
			names = append(names, "archive "+m[1])
		}
	}
	if len(names) < 16 {
		t.Fatalf("%d commands and their parts: %q", len(names), names)
	}
	for _, name := range names {
		if name == "help" {
			continue
		}
		help := said(t, append(strings.Fields(name), "--help")...)
		example := regexp.MustCompile(`(?m)^ +.*loamline `+name+`\b(.*)$`).FindAllStringSubmatch(help[strings.Index(help, "DESCRIPTION:")+1:], -1)
		if len(example) == 0 || !strings.Contains(help, "Example") {
			t.Errorf("%s has no example:\n%s", name, help)
		}
		_, options, _ := strings.Cut(help, "OPTIONS:")
		for _, e := range example {
			for _, flag := range regexp.MustCompile(`--[a-z-]+`).FindAllString(e[1], -1) {
				if !strings.Contains(options, flag+" ") && !strings.Contains(options, flag+",") {
					t.Errorf("%s: the example has %s, which is no flag", name, flag)
				}
			}
		}
	}
}

// The shells take their scripts; what they are then told is in a script test.
func TestCompletion(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		script := said(t, "completion", shell)
		if !strings.Contains(script, "loamline") {
			t.Errorf("%s: %q", shell, script)
		}
		if path, err := exec.LookPath(shell); err == nil {
			c := exec.Command(path, "-n")
			c.Stdin = strings.NewReader(script)
			if out, err := c.CombinedOutput(); err != nil {
				t.Errorf("%s does not take its script: %s", shell, out)
			}
		}
	}
}

// man(1) itself reads the page where it is installed.
func TestManualPage(t *testing.T) {
	page := said(t, "man")
	for _, want := range []string{".TH", "loamline", "whatif", "Exit status"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in the manual page", want)
		}
	}
}
