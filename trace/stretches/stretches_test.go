package stretches

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"loamline.example/trace/remark"
)

// Both say what looking at every stretch says.
func TestAsOneByOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 8))
	for range 300 {
		of := make([]remark.Stretch, rng.IntN(30))
		for k := range of {
			from := float64(rng.IntN(40))
			of[k] = remark.Stretch{FromM: from, ToM: from + float64(rng.IntN(12))}
		}
		slices.SortStableFunc(of, func(a, b remark.Stretch) int { return cmp.Compare(b.ToM-b.FromM, a.ToM-a.FromM) })
		for i, in := range Around(of) {
			want := slices.IndexFunc(of, func(o remark.Stretch) bool { return o.FromM <= of[i].FromM && of[i].ToM <= o.ToM })
			if in != want {
				t.Fatalf("%v: %v lies in %v, want %v", of, of[i], of[in], of[want])
			}
		}
		all := Union(of)
		for x := -0.5; x < 60; x += 0.5 {
			want := slices.ContainsFunc(of, func(o remark.Stretch) bool { return o.FromM <= x && x <= o.ToM })
			if all.Hold(x) != want {
				t.Fatalf("%v: at %v %v, want %v", of, x, all.Hold(x), want)
			}
		}
	}
}
