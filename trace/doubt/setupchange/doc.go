// Package setupchange finds where a line is heard with another hookup or at another
// locating frequency from one reading to the next, and bends there ([Doubts]): what is
// heard from there on may be another line. Where both were heard over some metres, or
// where they come and go from reading to reading, they were compared.
package setupchange
