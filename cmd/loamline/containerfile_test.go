package main

import (
	"debug/elf"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

// The container file's own build command makes a program that needs nothing beside
// it, and its Go is the one that the module asks for.
func TestContainerFileBuildsAStaticProgram(t *testing.T) {
	if testing.Short() || runtime.GOOS != "linux" {
		t.Skip("builds the program, for Linux")
	}
	if os.Getenv("CGO_ENABLED") != "0" {
		t.Skip("with cgo it would compile every dependency a second time: CGO_ENABLED=0 go test runs it, as .ci/run does")
	}
	text, err := os.ReadFile("../../examples/batch/Containerfile")
	if err != nil {
		t.Fatal(err)
	}
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	if image, wants := regexp.MustCompile(`golang:(\d+\.\d+)`).FindSubmatch(text), regexp.MustCompile(`(?m)^go (\d+\.\d+)`).FindSubmatch(mod); image == nil || string(image[1]) != string(wants[1]) {
		t.Errorf("the container's Go is %q, the module's %q", image, wants)
	}
	run := regexp.MustCompile(`(?m)^RUN (.*)$`).FindSubmatch(text)
	if run == nil {
		t.Fatal("nothing is run")
	}
	out := filepath.Join(t.TempDir(), "out")
	if err := os.Mkdir(out, 0o777); err != nil {
		t.Fatal(err)
	}
	// Without -trimpath what other tests compiled is used again; paths within the
	// program are nothing that this test looks at.
	line := strings.ReplaceAll(strings.ReplaceAll(string(run[1]), "/out/", out+"/"), " -trimpath", "")
	cmd := exec.Command("sh", "-c", line)
	cmd.Dir = "../.."
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	f, err := elf.Open(filepath.Join(out, "loamline"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, p := range f.Progs {
		if p.Type == elf.PT_INTERP {
			t.Error("it needs the system's loader, and so its libraries")
		}
	}
	said, err := exec.Command(filepath.Join(out, "loamline"), "--version").CombinedOutput()
	if err != nil || !strings.Contains(string(said), version) {
		t.Errorf("%v: %s", err, said)
	}
}
