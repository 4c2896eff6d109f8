package batch

import (
	"errors"
	"fmt"
)

// Shard is a part of a batch that one of several programs makes; the zero value is
// all of it. Programs need not know of each other: what a program's jobs have of
// the jobs of others, it works out itself.
type Shard struct{ Part, Of int }

// ParseShard reads "0/4"; the empty text is all of the batch.
func ParseShard(text string) (Shard, error) {
	var s Shard
	if text == "" {
		return s, nil
	}
	var more string
	if n, _ := fmt.Sscanf(text, "%d/%d%s", &s.Part, &s.Of, &more); n != 2 || s.Part < 0 || s.Part >= s.Of {
		return Shard{}, errors.New("it is PART/OF, with parts from 0 to one less than OF, such as 0/4, 1/4, 2/4 and 3/4")
	}
	return s, nil
}

// Name tells the parts' files apart.
func (s Shard) Name() string {
	if s.Of == 0 {
		return ""
	}
	return fmt.Sprintf("-%d-of-%d", s.Part, s.Of)
}

// share parts the jobs. They stay in their order, in which those of one folder
// stand together and mostly lie together too, and each part has as much to read as
// the next.
func (s Shard) share(jobs []*work) (ours, others []*work) {
	var all, before int64
	for _, w := range jobs {
		all += w.bytes
	}
	for _, w := range jobs {
		part := int64(s.Part)
		if s.Of > 0 {
			part = (2*before + w.bytes) * int64(s.Of) / (2 * all)
		}
		before += w.bytes
		if w.ours = part == int64(s.Part); w.ours {
			ours = append(ours, w)
		} else {
			others = append(others, w)
		}
	}
	return ours, others
}
