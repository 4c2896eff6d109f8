package tongue

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/trace/finding"
)

// worded are the folders whose sentences a crew may read.
var worded = []string{"export/words", "export/words/beneath", "export/stakeout", "export/kml", "export/page", "export/pdf",
	"trace", "trace/locate", "trace/doubt/crosscheck", "trace/placing", "trace/clean", "trace/doubt/linename", "trace/records", "trace/zones"}

// alsoWorded are further folders from which single sentences come: labels of styles,
// frames, problems of the input.
var alsoWorded = []string{"export/style", "geo", "trace/intake", "export/place"}

// piece is a text of the sources between the places that differ.
type piece struct{ text, at string }

var (
	verbs   = regexp.MustCompile(`%[-+# 0]*(?:\[\d+\])?[\d.]*[a-zA-Z]|%%|%c`)
	lengths = regexp.MustCompile(lengthPattern)
)

// pieces are the texts of a folder's sources; those of the program's messages, which a
// crew never reads, only where they are asked for.
func pieces(t *testing.T, dir string, messages bool) []piece {
	t.Helper()
	var out []piece
	files, err := filepath.Glob(filepath.Join("..", "..", dir, "*"))
	if err != nil || len(files) == 0 {
		t.Fatal(dir, err)
	}
	add := func(text, at string) {
		for _, part := range verbs.Split(strings.ReplaceAll(text, "%%", "%"), -1) {
			out = append(out, piece{part, at})
		}
	}
	for _, file := range files {
		switch ext := filepath.Ext(file); {
		case strings.HasSuffix(file, "_test.go"):
		case ext == ".go":
			set := token.NewFileSet()
			tree, err := parser.ParseFile(set, file, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(tree, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.ImportSpec:
					return false
				case *ast.CallExpr: // messages of the program, which stay English
					if isName(n.Fun, "declare") || isName(n.Fun, "panic") { // specimens of findings; what nobody is to read
						return false
					}
					if messages {
						break
					}
					if f, ok := n.Fun.(*ast.SelectorExpr); ok && (f.Sel.Name == "Errorf" || f.Sel.Name == "New") || isName(n.Fun, "bad") {
						return false
					}
				case *ast.BasicLit:
					if n.Kind == token.STRING {
						s, _ := strconv.Unquote(n.Value)
						add(strings.ReplaceAll(s, "%%", "\x00"), set.Position(n.Pos()).String())
					}
				}
				return true
			})
		case ext == ".js" || ext == ".tmpl":
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range regexp.MustCompile(`tell\('((?:[^'\\]|\\.)*)'|(?:say|label|printf) "([^"]*)"`).FindAllStringSubmatch(string(text), -1) {
				add(strings.ReplaceAll(placePattern.ReplaceAllString(m[1]+m[2], "%s"), `\'`, "'"), file)
			}
		}
	}
	for i := range out {
		out[i].text = strings.ReplaceAll(out[i].text, "\x00", "%")
	}
	return out
}

func isName(e ast.Expr, name string) bool {
	id, ok := e.(*ast.Ident)
	return ok && id.Name == name
}

// unseen are texts of the sources that no map shows, by the file: messages with which
// a job is refused, what stands in other files, and markup.
var unseen = map[string]*regexp.Regexp{
	"words/inunits.go":        regexp.MustCompile("nf s"),
	"kml/style.go":            regexp.MustCompile("^<"),
	"kml/words.go":            regexp.MustCompile("^<"),
	"page/assets.go":          regexp.MustCompile("function"),
	"page/tongue.go":          regexp.MustCompile("^<"),
	"pdf/crew_both.go":        regexp.MustCompile("this sheet in english|in the list of depths"), // of the English half
	"trace/cautions.go":       regexp.MustCompile("not a locate and not a survey|dig by hand in the zones|licensed practice take"),
	"locate/output_frame.go":  regexp.MustCompile(""),
	"placing/reach.go":        regexp.MustCompile(""),
	"placing/framecheck.go":   regexp.MustCompile("are latitudes and longitudes, and crs|leave crs out|names a system for another part|name the system that|the other place that the job|would lie together|exchange the two where|^the positions lie at$"),
	"placing/place.go":        regexp.MustCompile("this file and the only|would lie together|correct the sign where"),
	"placing/twopositions.go": regexp.MustCompile("one pair is in another frame|so do those of|lat, lon"),
	"placing/wgs84.go":        regexp.MustCompile("job names no grid|set crs to the grid"),
}

func isUnseen(p piece, part string) bool {
	for file, what := range unseen {
		if strings.Contains(p.at, file+":") && what.MatchString(part) {
			return true
		}
	}
	return false
}

// TestSourcesHaveNoSentenceWithoutSpanish looks at the sources themselves, so that a
// sentence that no case of the tests brings about is translated too: each text of
// several words must be part of a template.
func TestSourcesHaveNoSentenceWithoutSpanish(t *testing.T) {
	var known strings.Builder
	for _, tm := range spanish().all {
		known.WriteString("\n" + strings.ToLower(strings.Join(tm.literals, "\x01")))
	}
	all := known.String()
	sentence := regexp.MustCompile(`[a-z]{2,},? [a-z]`)
	asked := pieces(t, "trace/intake", true)
	asked = slices.DeleteFunc(asked, func(p piece) bool { return !strings.Contains(p.at, "intake/columns.go:") }) // what is wrong with a cell, which maps tell
	for _, dir := range worded {
		asked = append(asked, pieces(t, dir, false)...)
	}
	for _, p := range asked {
		for _, part := range lengths.Split(p.text, -1) {
			part = strings.ToLower(strings.Trim(strings.TrimPrefix(part, " m"), " .,;:'()±\n"))
			if !sentence.MatchString(part) || strings.Contains(all, part) || isUnseen(p, part) {
				continue
			}
			if whole := strings.ToLower(strings.Trim(p.text, " .,;:'()\n")); strings.Contains(all, whole) {
				continue
			}
			t.Errorf("%s: %q is in no template: add it to es_*.go", strings.TrimPrefix(p.at, "../../"), part)
		}
	}
}

// A kind's title may be of one word, which the sources have too many of to be asked for.
func TestTitlesOfFindingsHaveSpanish(t *testing.T) {
	english := map[string]bool{}
	for _, tm := range spanish().all {
		english[tm.english] = true
	}
	for _, f := range finding.All() {
		if title := words.RoleTitle(f.Role()); !english[title] {
			t.Errorf("%q has no pair: add it to es_findings.go", title)
		}
	}
}

// TestNoPairIsUnused holds the catalogue against the sources: the words of each
// template between its places are put together from texts that are there.
func TestNoPairIsUnused(t *testing.T) {
	whole := map[string]bool{}
	var texts []string
	for _, dir := range append(alsoWorded, worded...) {
		for _, p := range pieces(t, dir, true) {
			for _, part := range append(lengths.Split(p.text, -1), p.text) {
				if part = strings.ToLower(part); !whole[part] {
					whole[part] = true
					texts = append(texts, part)
				}
			}
		}
	}
	const run = 12 // so many letters on end make a text one of the sources'
	runs := map[string]bool{}
	for _, text := range texts {
		for i := run; i <= len(text); i++ {
			runs[text[i-run:i]] = true
		}
	}
	made := func(l string) bool {
		can := make([]bool, len(l)+1)
		can[0] = true
		for i := range l {
			for j := i + 1; can[i] && j <= len(l); j++ {
				if part := l[i:j]; whole[part] || strings.Trim(part, " .,;:'()±") == "" {
					can[j] = true
				}
			}
			for j := i + run; can[i] && j <= len(l) && runs[l[j-run:j]]; j++ {
				can[j] = true
			}
		}
		return can[len(l)]
	}
	for _, tm := range spanish().all {
		for _, l := range tm.literals {
			l = strings.ToLower(l)
			if !made(l) && !made(l+".") && !made(l+": ") && !made(strings.Trim(l, " .,;:()")) {
				t.Errorf("%q: nothing in the sources says %q", tm.english, l)
			}
		}
	}
}
