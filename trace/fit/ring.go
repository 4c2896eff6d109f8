package fit

import "loamline.example/geo"

// fewestInRing nodes make a ring. Judgement: fewer are a corner.
const fewestInRing = 5

// reopened opens a ring where the walk did. The path of a spanning tree goes round a ring
// but for its longest link, and that may be a stride of the walk where its end comes
// closer to its start than one: the line would be cut between two readings that the
// walk went on between, and joined where it never went. A ring that the walk went round and
// beyond is closed, from where it began.
func reopened(ids, node []int32, centers []geo.XY, stepM float64) []int32 {
	n := len(ids)
	if n < fewestInRing || !strides(ids[0], ids[n-1], node, centers, stepM) {
		return ids
	}
	at := make([]int, len(centers)) // place on the path, counted from 1
	for k, id := range ids {
		at[id] = k + 1
	}
	walked := make([]bool, n-1) // of the link behind each place
	for i := 1; i < len(node); i++ {
		a, b := at[node[i-1]], at[node[i]]
		if a > 0 && b > 0 && (a-b == 1 || b-a == 1) {
			walked[min(a, b)-1] = true
		}
	}
	open := -1
	length := func(k int) float64 { return centers[ids[k]].Dist(centers[ids[k+1]]) }
	for k := range walked {
		if !walked[k] && (open < 0 || length(k) > length(open)) {
			open = k
		}
	}
	if open >= 0 {
		return append(append(make([]int32, 0, n), ids[open+1:]...), ids[:open+1]...)
	}
	start := at[node[0]] - 1
	if start < 0 {
		return ids
	}
	return append(append(make([]int32, 0, n+1), ids[start:]...), ids[:start+1]...)
}

// strides reports whether the walk goes from one node to another by a usual step.
func strides(a, b int32, node []int32, centers []geo.XY, stepM float64) bool {
	if centers[a].Dist(centers[b]) > 3*stepM {
		return false
	}
	for i := 1; i < len(node); i++ {
		if node[i-1] == a && node[i] == b || node[i-1] == b && node[i] == a {
			return true
		}
	}
	return false
}
