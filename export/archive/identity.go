package archive

import (
	"fmt"
	"slices"

	"loamline.example/trace"
)

// Identity is what a job is told by in an archive: the name that is stated for
// it, and the fingerprints of what was measured. Names of files, tickets and
// places do not tell jobs apart: every site has its trace.csv, and a ticket has
// many sites.
type Identity struct {
	Stated string
	Files  []string // SHA-256 of the readings tables and GNSS logs, sorted
}

// IdentityOf tells a job.
func IdentityOf(job trace.Job, inputs []trace.Input) Identity {
	id := Identity{Stated: job.ID}
	for _, in := range inputs {
		if in.Kind == trace.InputTable || in.Kind == trace.InputGNSSLog {
			id.Files = append(id.Files, in.SHA256)
		}
	}
	slices.Sort(id.Files)
	id.Files = slices.Compact(id.Files)
	return id
}

// Entry is the newest version of a job, as an archive's ledger has it.
type Entry struct {
	Key     string
	Version int
	Present bool // not taken out
	Base    string
	Stated  string
	Files   []string
	Exact   bool   // false for a job of an archive that did not tell readings from other inputs
	SHA256  string // of its GeoJSON
}

// same reports whether a job is this one, by what is stated or by fingerprints.
func (k Entry) same(id Identity) bool {
	if id.Stated != "" && k.Stated != "" {
		return id.Stated == k.Stated
	}
	if len(id.Files) == 0 {
		return false
	}
	if k.Exact {
		return slices.Equal(id.Files, k.Files)
	}
	return !slices.ContainsFunc(id.Files, func(f string) bool { return !slices.Contains(k.Files, f) })
}

// shares reports whether a job has readings of this one: it is then the same
// trace in part, and no neighbour.
func (k Entry) shares(id Identity) bool {
	return k.same(id) || slices.ContainsFunc(id.Files, func(f string) bool { return slices.Contains(k.Files, f) })
}

// find returns the job's own entry, or nil: one whose stated name agrees before
// one whose fingerprints do, and one that is there before one that was taken out.
func find(ledger []Entry, id Identity) *Entry {
	best, bestRank := -1, 0
	for i, k := range ledger {
		if !k.same(id) {
			continue
		}
		rank := 1
		if k.Present {
			rank = 2
		}
		if k.Stated != "" && k.Stated == id.Stated {
			rank += 2
		}
		if rank > bestRank {
			best, bestRank = i, rank
		}
	}
	if best < 0 {
		return nil
	}
	return &ledger[best]
}

// Placed is where a job goes in an archive.
type Placed struct {
	Kept
	Was *Entry // its newest version so far
	ID  Identity
}

// PlaceIn decides where a job goes, given all that an archive has.
func PlaceIn(ledger []Entry, id Identity, base, sha256 string) Placed {
	p := Placed{ID: id, Was: find(ledger, id)}
	if k := p.Was; k != nil {
		p.Kept = Kept{Key: k.Key, Version: k.Version + 1}
		if p.ID.Stated == "" {
			p.ID.Stated = k.Stated
		}
		if k.Present {
			p.Replaced = k.Version
			if k.SHA256 == sha256 && p.ID.Stated == k.Stated {
				p.Kept = Kept{Key: k.Key, Version: k.Version, Unchanged: true}
			}
		}
		return p
	}
	taken := map[string]bool{}
	for _, k := range ledger {
		taken[k.Key] = true
		if k.Present && (k.Base == base || k.shares(id)) {
			p.Beside = append(p.Beside, k.Key)
		}
	}
	p.Key, p.Version = base, 1
	for n := 2; taken[p.Key]; n++ {
		p.Key = fmt.Sprintf("%s (%d)", base, n)
	}
	return p
}

// Identities are several jobs at once, such as those of a batch.
type Identities struct{ stated, files map[string]bool }

// NewIdentities gathers jobs.
func NewIdentities(ids ...Identity) Identities {
	set := Identities{map[string]bool{}, map[string]bool{}}
	for _, id := range ids {
		if id.Stated != "" {
			set.stated[id.Stated] = true
		}
		for _, f := range id.Files {
			set.files[f] = true
		}
	}
	return set
}

// Share reports whether a job is one of these, or has readings of one.
func (s Identities) Share(id Identity) bool {
	return s.stated[id.Stated] || slices.ContainsFunc(id.Files, func(f string) bool { return s.files[f] })
}

// OwnKeys are the jobs whose lines are the asking jobs' own.
func OwnKeys(ledger []Entry, ids Identities) map[string]bool {
	own := map[string]bool{}
	for _, k := range ledger {
		if ids.Share(Identity{k.Stated, k.Files}) {
			own[k.Key] = true
		}
	}
	return own
}

// IdentityWords says what a job is told by.
func IdentityWords(stated string, files []string) string {
	words := fmt.Sprintf("%d fingerprints of its readings", len(files))
	if len(files) == 1 {
		words = "the fingerprint of its readings"
	}
	for i, f := range files {
		if i == 3 {
			words += " …"
			break
		}
		if len(f) > 12 {
			f = f[:12]
		}
		words += " " + f
	}
	if stated != "" {
		return fmt.Sprintf("the job_id %q that is stated for it, and %s", stated, words)
	}
	return words
}

// EntryOf returns a job's entry by its key.
func EntryOf(ledger []Entry, key string) (*Entry, error) {
	for i := range ledger {
		if ledger[i].Key == key {
			return &ledger[i], nil
		}
	}
	return nil, NoSuchJob(key)
}

// Restored is what restoring a version makes, and whether it is the newest
// already.
func Restored(k *Entry, version int) (Kept, bool) {
	if k.Present && k.Version == version {
		return Kept{Key: k.Key, Version: version, Unchanged: true}, true
	}
	kept := Kept{Key: k.Key, Version: k.Version + 1}
	if k.Present {
		kept.Replaced = k.Version
	}
	return kept, false
}
