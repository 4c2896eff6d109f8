// Package onlead finds where a walk began or ended over the transmitter's lead or its
// ground stake, and not over the line: depths of next to nothing, and then those of the
// line at once ([Doubts]). A line that comes up does so over some of its readings.
package onlead
