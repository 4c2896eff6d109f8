// Package zones draws what is to be kept clear of about a line: the tolerance zone that a
// rule asks for, and the caution zone that holds the line's band, what bleed-over may have
// displaced, how far past its ends the line may reach by what their readings err, and the
// courses that it may have where the trace may have followed another ([Draw]). It tells how
// far they reach at each place ([ReachAlong]), and widens the figures of the line so that
// they hold what is suspected ([WidenForSuspected]).
package zones
