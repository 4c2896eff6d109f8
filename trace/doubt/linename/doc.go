// Package linename tells of lines by what they are called: of two whose names look
// alike and may be one, and of one whose tables bore no name of a line and may be two.
package linename
