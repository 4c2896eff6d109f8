package trace

// Remark is something that the map tells beyond where its lines lie, as it was found:
// a kind with its figures, in metres, and no words. Package remark has the kinds, and
// export/words says each in the reader's units.
type Remark interface{ Remark() }

// Verbatim is a remark that came in words, as from an archive or another program: it is
// told as it stands, in whatever units.
type Verbatim string

// Remark implements Remark.
func (Verbatim) Remark() {}

// Several are remarks that are told in one.
type Several []Remark

// Remark implements Remark.
func (Several) Remark() {}
