// Package placing brings the readings of a job to where they lie: from the frame, the
// grid and the units of its file to WGS 84 and to the job's plane ([Place]). It finds what
// cannot be so: swapped axes and lost signs, a grid or datum of another part of the world,
// two positions in one row that lie apart, lines that lie in different countries. What one
// row has wrong costs that row, with its reason; what the file has wrong is refused.
package placing
