// Package setting says which settings of a job can be used, and what follows from them:
// the frame that its positions are in, and the day by which that is dated.
package setting
