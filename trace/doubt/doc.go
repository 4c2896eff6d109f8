// Package doubt is what its rooms share, and the hall before them: each of them knows one way in which the rows of
// a table, a line or a job contradict themselves, or leave open where the line lies although
// nothing contradicts it, and tells it as a finding or a problem. package locate asks them in
// turn, once the lines are drawn. What contradicts the drawn line is package guard's, what
// speaks of another conductor package bleed's, and what judges a reading by itself package
// clean's.
package doubt
