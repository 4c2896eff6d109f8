// Package rounding finds in which steps the positions of a file, or of a part of it, were
// written ([Find]), and what that hides of where they lie: five decimals of a degree are a
// metre. It does so for depths too ([Files.DepthStepM]). It looks at the figures as they stood in the file, before anything is moved to
// another frame.
package rounding
