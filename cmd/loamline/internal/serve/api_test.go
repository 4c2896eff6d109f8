package serve

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
)

// contract is openapi.yaml, and what of it was exercised.
type contract struct {
	t        *testing.T
	doc      map[string]any
	compiler *jsonschema.Compiler
	seen     map[string]bool // operations
}

const docURL = "loamline:openapi"

func readContract(t *testing.T) *contract {
	t.Helper()
	var raw any
	if err := yaml.Unmarshal(openAPI, &raw); err != nil {
		t.Fatal(err)
	}
	// By way of JSON, so that numbers and keys are what a validator expects.
	b, err := json.Marshal(raw)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(b)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020) // the dialect of OpenAPI 3.1.0
	c.AssertFormat()
	if err := c.AddResource(docURL, doc); err != nil {
		t.Fatal(err)
	}
	return &contract{t, doc.(map[string]any), c, map[string]bool{}}
}

func (c *contract) paths() map[string]any { return c.doc["paths"].(map[string]any) }

var parameter = regexp.MustCompile(`\{[^}]*\}`)

// operation finds the path of the contract that a request went to.
func (c *contract) operation(method, path string) (template string, op map[string]any) {
	path, _, _ = strings.Cut(path, "?")
	for _, p := range slices.Sorted(maps.Keys(c.paths())) {
		if regexp.MustCompile("^" + parameter.ReplaceAllString(p, "[^/]+") + "$").MatchString(path) {
			if op, ok := c.paths()[p].(map[string]any)[strings.ToLower(method)].(map[string]any); ok {
				return p, op
			}
		}
	}
	c.t.Fatalf("%s %s is not in the contract", method, path)
	return "", nil
}

// check holds an answer against the contract.
func (c *contract) check(method, path string, resp *http.Response, body string) {
	c.t.Helper()
	template, op := c.operation(method, path)
	c.seen[op["operationId"].(string)] = true
	status := fmt.Sprint(resp.StatusCode)
	answer, ok := op["responses"].(map[string]any)[status].(map[string]any)
	if !ok {
		c.t.Fatalf("%s %s answers %s, which the contract does not know: %s", method, path, status, body)
	}
	at := docURL + "#/paths/" + escape(template) + "/" + strings.ToLower(method) + "/responses/" + status
	if ref, ok := answer["$ref"].(string); ok {
		at, answer = docURL+ref, c.doc["components"].(map[string]any)["responses"].(map[string]any)["Problem"].(map[string]any)
	}
	content, ok := answer["content"].(map[string]any)
	if !ok {
		if body != "" {
			c.t.Errorf("%s %s: a body where the contract has none: %s", method, path, body)
		}
		return
	}
	kind, _, _ := strings.Cut(resp.Header.Get("Content-Type"), ";")
	media, ok := content[kind].(map[string]any)
	if !ok {
		if _, any := content["*/*"]; !any {
			c.t.Errorf("%s %s: %s is not in the contract", method, path, kind)
		}
		return
	}
	if media["schema"] == nil {
		return
	}
	schema, err := c.compiler.Compile(at + "/content/" + escape(kind) + "/schema")
	if err != nil {
		c.t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(body))
	if err != nil {
		c.t.Fatalf("%s %s: %v", method, path, err)
	}
	if err := schema.Validate(v); err != nil {
		c.t.Errorf("%s %s: %v", method, path, err)
	}
}

func escape(s string) string {
	return strings.NewReplacer("~", "~0", "/", "~1", "{", "%7B", "}", "%7D", "*", "%2A").Replace(s)
}

// Every operation of the contract answers as it says, in good times and bad.
func TestContract(t *testing.T) {
	c, s := readContract(t), newSite(t, nil)
	ask := func(method, path, body string, status int) map[string]any {
		t.Helper()
		kind := ""
		if body != "" {
			kind = "application/json"
		}
		resp, text := s.do(method, path, kind, []byte(body))
		if resp.StatusCode != status {
			t.Fatalf("%s %s: %s, not %d: %s", method, path, resp.Status, status, text)
		}
		c.check(method, path, resp, text)
		var v map[string]any
		_ = json.Unmarshal([]byte(text), &v)
		return v
	}
	upload := func(query string, status int, files ...file) map[string]any {
		t.Helper()
		kind, body := formBody(t, files)
		resp, text := s.do("POST", "/api/v1/jobs"+query, kind, body)
		if resp.StatusCode != status {
			t.Fatalf("upload: %s, not %d: %s", resp.Status, status, text)
		}
		c.check("POST", "/api/v1/jobs", resp, text)
		var v map[string]any
		_ = json.Unmarshal([]byte(text), &v)
		return v
	}

	id := upload("?run=yes", 201, lanternRow(t)...)["id"].(string)
	job := "/api/v1/jobs/" + id
	ask("GET", job+"/runs/1", "", 200)
	s.wait(id, 1)
	if state := ask("GET", job+"/runs/1", "", 200)["state"]; state != "done" {
		t.Fatal(state)
	}
	ask("GET", job, "", 200)
	ask("GET", "/api/v1/jobs?ticket=2041&from=2026-05-12&to=2026-05-12&bbox=-31,44,-30,45&limit=5", "", 200)
	if n := ask("GET", "/api/v1/jobs?bbox=10,44,11,45", "", 200)["total"]; n != 0.0 {
		t.Errorf("%v jobs where none lies", n)
	}
	ask("GET", job+"/runs/1/result", "", 200)
	if n := ask("GET", job+"/runs/1/ledger", "", 200)["total"]; n != 96.0 {
		t.Errorf("the ledger has %v rows of 96", n)
	}
	ask("GET", job+"/runs/1/ledger?status=set_aside&from=1", "", 200)
	ask("GET", job+"/runs/1/files/geojson", "", 200)
	ask("GET", job+"/runs/1/zip", "", 200)
	ask("GET", job+"/inputs/1", "", 200)
	ask("GET", job+"/inputs/0", "", 404)
	ask("GET", job+"/inputs/99", "", 404)
	ask("POST", job+"/runs", `{"tolerance":{"half_width":"24 in"}}`, 202)
	ask("POST", job+"/runs/2/cancel", "", 204)
	s.wait(id, 2)
	ask("POST", job+"/runs", `{"tolerance":{"half_width":"30 in","measured_from":"centerline"}}`, 202)
	s.wait(id, 3)
	changed := ask("GET", job+"/changes?from=1&to=3", "", 200)
	if n := len(changed["settings"].([]any)); n != 2 {
		t.Errorf("%d settings changed, not 2: %v", n, changed["settings"])
	}
	ask("GET", "/api/v1/overlay?first="+id+"&second="+id, "", 200)

	strange := upload("", 201, file{"trace", "walk.csv", strangeTrace})["id"].(string)
	path := "/api/v1/jobs/" + strange
	ask("POST", path+"/runs", "", 409)
	ask("PUT", path+"/answers", `{"columns":{"walk.csv":{"Depth":"fathoms"}}}`, 422)
	ask("PUT", path+"/answers", `{"colums":{}}`, 400)
	ask("PUT", path+"/answers", `{"columns":{"walk.csv":{"Latitude":"lat","Longitude":"lon","Depth":"depth_ft","Cable":"line","Pt":"-"}},"datum":""}`, 200)
	ask("POST", path+"/runs", `{"units":"cubits"}`, 422)
	ask("POST", path+"/runs", `{"language":"fr"}`, 422)
	ask("GET", path+"/runs/7", "", 404)
	ask("GET", path+"/changes", "", 404)
	ask("GET", "/api/v1/overlay?first="+id+"&second="+strange, "", 404)
	ask("GET", "/api/v1/jobs?bbox=1,2", "", 400)
	ask("GET", "/api/v1/jobs?limit=0", "", 400)
	ask("GET", "/api/v1/jobs?from=yesterday", "", 400)
	ask("GET", job+"/runs/1/ledger?status=lost", "", 400)
	ask("GET", job+"/runs/1/ledger?from=-1", "", 400)
	if resp, _ := s.do("PATCH", job, "", nil); resp.StatusCode != 405 || resp.Header.Get("Allow") != "GET, DELETE" {
		t.Errorf("a wrong method: %s, Allow %q", resp.Status, resp.Header.Get("Allow"))
	}

	bad := upload("", 422, file{"trace", "a.csv", "lat,lon\n44,-71\n"}, file{"job", "j.toml", "ticket = \"x\"\ntolerence = 3\n"})
	p := bad["problems"].([]any)[0].(map[string]any)
	if p["file"] != "j.toml" || p["line"] != 2.0 || !strings.Contains(p["hint"].(string), "tolerance") {
		t.Errorf("the key at fault is told as %v", p)
	}
	ask("GET", "/api/v1/systems?q=long+island&job="+id, "", 200)
	known := ask("GET", "/api/v1/remembered", "", 200)["remembered"].([]any)
	if len(known) != 1 {
		t.Fatalf("%d answers are remembered", len(known))
	}
	ask("DELETE", "/api/v1/remembered/"+known[0].(map[string]any)["key"].(string), "", 204)
	ask("DELETE", "/api/v1/remembered/none", "", 404)
	ask("DELETE", job+"/runs/3", "", 204)
	ask("DELETE", job+"/runs/3", "", 404)
	ask("DELETE", job, "", 204)
	ask("DELETE", job, "", 404)

	for path, methods := range c.paths() {
		for method, op := range methods.(map[string]any) {
			if op, ok := op.(map[string]any); ok && !c.seen[op["operationId"].(string)] {
				t.Errorf("%s %s was not exercised", method, path)
			}
		}
	}
}

// The contract lists every path that the API answers, and no other.
func TestContractIsWhole(t *testing.T) {
	c := readContract(t)
	var listed []string
	for path, methods := range c.paths() {
		for method, op := range methods.(map[string]any) {
			if _, ok := op.(map[string]any); ok {
				listed = append(listed, strings.ToUpper(method)+" "+path)
			}
		}
	}
	s := newSite(t, nil)
	mux := http.NewServeMux()
	s.srv.routeAPI(mux)
	for _, l := range listed {
		method, path, _ := strings.Cut(l, " ")
		r := httptest.NewRequest(method, strings.NewReplacer("{id}", strings.Repeat("a", 26), "{run}", "1", "{key}", "x").Replace(path), nil)
		if _, pattern := mux.Handler(r); pattern != l {
			t.Errorf("%s is answered by %q", l, pattern)
		}
	}
	if routes := countRoutes(t); routes != len(listed) {
		t.Errorf("the API has %d paths, the contract %d", routes, len(listed))
	}
	resp, _ := s.do("GET", "/api/openapi.yaml", "", nil)
	if resp.StatusCode != 200 {
		t.Error(resp.Status)
	}
}

// countRoutes counts the API's registrations in its source, less the contract's
// own.
func countRoutes(t *testing.T) int {
	t.Helper()
	src, err := os.ReadFile("api_routes.go")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Count(string(src), "mux.HandleFunc(\"") - 1
}
