// Package compare lays one finished map over another of the same lines: which line of
// the one is which of the other ([PairLines]), how far apart they lie and how much
// deeper the second is ([OverlayPairs], [OverlayLocates]), and where they disagree by
// more than both bands. It knows maps alone, not the readings that they were made of.
package compare
