// Command notices prints the licence of everything that is in the program: the
// modules linked on each system, Go's own library, and the files that are
// embedded. From the repository's root:
//
//	go run ./.ci/notices >cmd/loamline/notices.txt
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// builds are the systems for which the program is made, and its optional part.
var builds = []struct {
	os   string
	cgo  string
	tags string
}{{"linux", "0", ""}, {"darwin", "0", ""}, {"windows", "0", ""}, {runtime.GOOS, "1", "proj"}}

// licenceFile matches the names under which licences and notices are kept.
var licenceFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|unlicense|patents)([-.].*)?$|-licen[cs]e(\.txt|\.md)?$`)

// module is one linked module and the folders of its packages that are linked.
type module struct {
	Path, Version, Dir string
	Replace            *module
	packages           []string
}

func main() {
	log.SetFlags(0)
	log.SetPrefix("notices: ")
	if err := write(os.Stdout); err != nil {
		log.Fatal(err)
	}
}

func write(w io.Writer) error {
	var out bytes.Buffer
	section(&out, "loamline", []string{"LICENSE"})
	root := strings.TrimSpace(string(must(exec.Command("go", "env", "GOROOT").Output())))
	section(&out, "the Go standard library", []string{filepath.Join(root, "LICENSE")})
	section(&out, must(leafletName()), []string{"export/page/leaflet/LICENSE"})
	section(&out, "PDFium, in WebAssembly", []string{"trace/siteplan/pdfpage/LICENSE.pdfium"})
	modules, err := linked()
	if err != nil {
		return err
	}
	for _, m := range modules {
		files, err := m.licences()
		if err != nil {
			return err
		}
		section(&out, m.Path+" "+m.Version, files)
	}
	_, err = out.WriteTo(w)
	return err
}

func must[T any](v T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return v
}

// leafletName reads the version out of the embedded script.
func leafletName() (string, error) {
	text, err := os.ReadFile("export/page/leaflet/leaflet.js")
	if err != nil {
		return "", err
	}
	name := regexp.MustCompile(`Leaflet [0-9.]+[0-9]`).Find(text)
	if name == nil {
		return "", errors.New("export/page/leaflet/leaflet.js does not say its version")
	}
	return string(name), nil
}

// linked lists the modules of the program on all systems, by path.
func linked() ([]*module, error) {
	byPath := map[string]*module{}
	for _, b := range builds {
		cmd := exec.Command("go", "list", "-deps", "-tags", b.tags, "-json=Dir,Module", "./cmd/loamline")
		cmd.Env = append(os.Environ(), "GOOS="+b.os, "CGO_ENABLED="+b.cgo)
		cmd.Stderr = os.Stderr
		list, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", cmd, err)
		}
		for d := json.NewDecoder(bytes.NewReader(list)); ; {
			var p struct {
				Dir    string
				Module *module
			}
			if err := d.Decode(&p); err == io.EOF {
				break
			} else if err != nil {
				return nil, err
			}
			if p.Module == nil || p.Module.Path == "loamline.example" {
				continue
			}
			m := byPath[p.Module.Path]
			if m == nil {
				m = p.Module
				byPath[m.Path] = m
			}
			m.packages = append(m.packages, p.Dir)
		}
	}
	var out []*module
	for _, m := range byPath {
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b *module) int { return strings.Compare(a.Path, b.Path) })
	return out, nil
}

// licences are the licence files of the module and of the folders of its linked
// packages, up to the module's root.
func (m *module) licences() ([]string, error) {
	folders := map[string]bool{m.Dir: true}
	for _, p := range m.packages {
		for ; strings.HasPrefix(p, m.Dir) && !folders[p]; p = filepath.Dir(p) {
			folders[p] = true
		}
	}
	var files []string
	for f := range folders {
		entries, err := os.ReadDir(f)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if !e.IsDir() && licenceFile.MatchString(e.Name()) && !strings.HasSuffix(e.Name(), ".go") {
				files = append(files, filepath.Join(f, e.Name()))
			}
		}
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("%s %s: no licence file in %s", m.Path, m.Version, m.Dir)
	}
	slices.Sort(files)
	return files, nil
}

// section writes a heading and the texts of files.
func section(w io.Writer, name string, files []string) {
	fmt.Fprintf(w, "%s\n== %s\n", strings.Repeat("=", 78), name)
	for _, f := range files {
		text := strings.ReplaceAll(string(must(os.ReadFile(f))), "\r\n", "\n")
		fmt.Fprintf(w, "\n-- %s\n\n%s\n", filepath.Base(f), strings.TrimRight(text, "\n"))
	}
	fmt.Fprintln(w)
}
