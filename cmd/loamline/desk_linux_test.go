package main

import (
	"bytes"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A start without arguments serves where no terminal, file or pipe is behind it.
func TestStartFromAFileManager(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	in, out := os.Stdin, os.Stdout
	defer func() { os.Stdin, os.Stdout = in, out }()
	t.Setenv("WAYLAND_DISPLAY", "")
	for name, c := range map[string]struct {
		display string
		in, out *os.File
		want    bool
	}{
		"a file manager":       {":0", null, null, true},
		"no screen":            {"", null, null, false},
		"help kept in a file":  {":0", null, file, false},
		"a file that comes in": {":0", file, null, false},
	} {
		t.Setenv("DISPLAY", c.display)
		os.Stdin, os.Stdout = c.in, c.out
		if got := fromDesk(); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
	if got := argsOf([]string{"loamline"}, true); !slices.Equal(got, []string{"loamline", "serve", "--open"}) {
		t.Errorf("it is run as %q", got)
	}
	for _, as := range []struct {
		args []string
		desk bool
	}{{[]string{"loamline"}, false}, {[]string{"loamline", "--version"}, true}} {
		if got := argsOf(as.args, as.desk); !slices.Equal(got, as.args) {
			t.Errorf("%q is run as %q", as.args, got)
		}
	}
}

// With --open the browser shows the page, whose button ends the program.
func TestOpensAndStops(t *testing.T) {
	dir := t.TempDir()
	seen := filepath.Join(dir, "seen")
	browser := "#!/bin/sh\nprintf %s \"$1\" >" + seen + ".part && mv " + seen + ".part " + seen + "\n"
	if err := os.WriteFile(filepath.Join(dir, "xdg-open"), []byte(browser), 0o755); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	cmd := program(t, "serve", "--open", "--listen", "127.0.0.1:0", "--data", filepath.Join(dir, "jobs"))
	cmd.Env = append(os.Environ(), "PATH="+dir+":"+os.Getenv("PATH"))
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	url := ""
	for range 3000 {
		if text, err := os.ReadFile(seen); err == nil {
			url = strings.TrimSuffix(string(text), "/")
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if url == "" {
		_ = cmd.Process.Signal(syscall.SIGTERM)
		<-ended
		t.Fatalf("no browser was opened: %s", said.String())
	}
	req, err := http.NewRequest("POST", url+"/stop", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Origin", url)
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(resp.Body)
	resp.Body.Close()
	if err != nil || !strings.Contains(string(page), "loamline has stopped") {
		t.Errorf("the button answers %d %v: %s", resp.StatusCode, err, page)
	}
	if err := <-ended; err != nil {
		t.Errorf("it ended with %v: %s", err, said.String())
	}
	if !strings.Contains(said.String(), "button at the foot of the page") {
		t.Errorf("nothing is said of how to stop it: %s", said.String())
	}
}
