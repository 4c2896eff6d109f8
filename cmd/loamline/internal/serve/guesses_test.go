package serve

import (
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/crypto/bcrypt"

	"loamline.example/cmd/loamline/internal/serve/door"
)

// Many guesses at once are no way round the limit, and are told when to come back:
// by name and password, by token, and by the form. Meanwhile the right token opens,
// from the same address.
func TestParallelGuesses(t *testing.T) {
	const token = "0123456789abcdefghij"
	form := func(values url.Values) func(*http.Request) {
		return func(r *http.Request) {
			r.Method, r.URL.Path = http.MethodPost, "/sign-in"
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Body = io.NopCloser(strings.NewReader(values.Encode()))
		}
	}
	for name, guess := range map[string]func(*http.Request){
		"a password":             func(r *http.Request) { r.SetBasicAuth("ada", "a guess "+time.Now().String()) },
		"a token":                func(r *http.Request) { r.Header.Set("Authorization", "Bearer a guess "+time.Now().String()) },
		"a password in the form": form(url.Values{"name": {"ada"}, "secret": {"a guess"}}),
		"a token in the form":    form(url.Values{"secret": {"a guess"}}),
	} {
		t.Run(name, func(t *testing.T) {
			hash, err := bcrypt.GenerateFromPassword([]byte("a long password"), bcrypt.MinCost)
			if err != nil {
				t.Fatal(err)
			}
			s := newSite(t, func(o *Options) { o.Token, o.Users = token, map[string]string{"ada": string(hash)} })
			var mu sync.Mutex
			status, retry := map[int]int{}, map[string]int{}
			ask := func(how func(*http.Request)) (int, string) {
				r, _ := http.NewRequest("GET", s.url+"/api/v1/jobs", nil)
				how(r)
				resp, err := http.DefaultClient.Do(r)
				if err != nil {
					t.Error(err)
					return 0, ""
				}
				resp.Body.Close()
				return resp.StatusCode, resp.Header.Get("Retry-After")
			}
			var wg sync.WaitGroup
			for range 40 {
				wg.Go(func() {
					code, after := ask(guess)
					right, _ := ask(func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+token) })
					mu.Lock()
					defer mu.Unlock()
					status[code]++
					if code == http.StatusTooManyRequests {
						retry[after]++
					}
					if right != http.StatusOK {
						t.Errorf("the right token is answered with %d", right)
					}
				})
			}
			wg.Wait()
			if status[401] != door.TriesOfOne || status[429] != 40-door.TriesOfOne {
				t.Errorf("%v", status)
			}
			for after := range retry {
				if n, err := strconv.Atoi(after); err != nil || n < 1 || n > 61 {
					t.Errorf("Retry-After %q", after)
				}
			}
		})
	}
}
