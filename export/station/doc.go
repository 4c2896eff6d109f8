// Package station tells what is known at a distance along a line, and which
// distances are round ones.
package station
