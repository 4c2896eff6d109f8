package export

import (
	"fmt"
	"slices"

	"loamline/trace"
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

// archived is the newest version of a job, as an archive's ledger has it.
type archived struct {
	key     string
	version int
	present bool // not taken out
	base    string
	stated  string
	files   []string
	exact   bool   // false for a job of an archive that did not tell readings from other inputs
	sha256  string // of its GeoJSON
}

// same reports whether a job is this one, by what is stated or by fingerprints.
func (k archived) same(id Identity) bool {
	if id.Stated != "" && k.stated != "" {
		return id.Stated == k.stated
	}
	if len(id.Files) == 0 {
		return false
	}
	if k.exact {
		return slices.Equal(id.Files, k.files)
	}
	return !slices.ContainsFunc(id.Files, func(f string) bool { return !slices.Contains(k.files, f) })
}

// shares reports whether a job has readings of this one: it is then the same
// trace in part, and no neighbour.
func (k archived) shares(id Identity) bool {
	return k.same(id) || slices.ContainsFunc(id.Files, func(f string) bool { return slices.Contains(k.files, f) })
}

// find returns the job's own entry, or nil: one whose stated name agrees before
// one whose fingerprints do, and one that is there before one that was taken out.
func find(ledger []archived, id Identity) *archived {
	best, bestRank := -1, 0
	for i, k := range ledger {
		if !k.same(id) {
			continue
		}
		rank := 1
		if k.present {
			rank = 2
		}
		if k.stated != "" && k.stated == id.Stated {
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

// placed is where a job goes in an archive.
type placed struct {
	Kept
	was *archived // its newest version so far
	id  Identity
}

// placeIn decides where a job goes, given all that an archive has.
func placeIn(ledger []archived, id Identity, base, sha256 string) placed {
	p := placed{id: id, was: find(ledger, id)}
	if k := p.was; k != nil {
		p.Kept = Kept{Key: k.key, Version: k.version + 1}
		if p.id.Stated == "" {
			p.id.Stated = k.stated
		}
		if k.present {
			p.Replaced = k.version
			if k.sha256 == sha256 && p.id.Stated == k.stated {
				p.Kept = Kept{Key: k.key, Version: k.version, Unchanged: true}
			}
		}
		return p
	}
	taken := map[string]bool{}
	for _, k := range ledger {
		taken[k.key] = true
		if k.present && (k.base == base || k.shares(id)) {
			p.Beside = append(p.Beside, k.key)
		}
	}
	p.Key, p.Version = base, 1
	for n := 2; taken[p.Key]; n++ {
		p.Key = fmt.Sprintf("%s (%d)", base, n)
	}
	return p
}

// ownKeys are the jobs whose lines are the asking job's own.
func ownKeys(ledger []archived, id Identity) map[string]bool {
	own := map[string]bool{}
	for _, k := range ledger {
		if k.shares(id) {
			own[k.key] = true
		}
	}
	return own
}

// identityWords says what a job is told by.
func identityWords(stated string, files []string) string {
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

// entryOf returns a job's entry by its key.
func entryOf(ledger []archived, key string) (*archived, error) {
	for i := range ledger {
		if ledger[i].key == key {
			return &ledger[i], nil
		}
	}
	return nil, noSuchJob(key)
}

// restored is what restoring a version makes, and whether it is the newest
// already.
func restored(k *archived, version int) (Kept, bool) {
	if k.present && k.version == version {
		return Kept{Key: k.key, Version: version, Unchanged: true}, true
	}
	kept := Kept{Key: k.key, Version: k.version + 1}
	if k.present {
		kept.Replaced = k.version
	}
	return kept, false
}
