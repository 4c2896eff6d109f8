package main

import (
	"os/exec"
	"runtime/debug"
	"strings"
	"testing"
)

// Every module that is linked into the program is in the notices, in the version
// that is linked, and with some text.
func TestEveryLinkedModuleHasItsNotice(t *testing.T) {
	list, err := exec.Command("go", "list", "-deps", "-f", `{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}`, ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, name := range strings.Split(strings.TrimSpace(string(list)), "\n") {
		if name == "" || seen[name] {
			continue
		}
		seen[name] = true
		_, text, ok := strings.Cut(notices, "\n== "+name+"\n")
		text, _, _ = strings.Cut(text, "\n== ")
		if !ok || len(text) < 200 {
			t.Errorf("%s has no notice; go run ./.ci/notices makes them anew", name)
		}
	}
	if len(seen) < 10 {
		t.Errorf("only %d modules are linked?", len(seen))
	}
	for _, want := range []string{"== loamline\n", "== the Go standard library\n", "== Leaflet 1.9.4\n", "Volodymyr Agafonkin", "SIL OPEN FONT LICENSE", "Liberation"} {
		if !strings.Contains(notices, want) {
			t.Errorf("the notices have no %q", want)
		}
	}
}

func TestCommitWords(t *testing.T) {
	set := func(kv ...string) (out []debug.BuildSetting) {
		for i := 0; i < len(kv); i += 2 {
			out = append(out, debug.BuildSetting{Key: kv[i], Value: kv[i+1]})
		}
		return out
	}
	for want, settings := range map[string][]debug.BuildSetting{
		"commit not recorded":               set("GOOS", "linux"),
		"commit 0123456789ab":               set("vcs.revision", "0123456789abcdef0123456789abcdef01234567", "vcs.modified", "false"),
		"commit 0123456789ab, with changes": set("vcs.revision", "0123456789abcdef0123456789abcdef01234567", "vcs.modified", "true"),
	} {
		if got := commitWords(settings); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
