package door

import (
	"context"
	"net/http"
)

// Visitor is who asks.
type Visitor struct {
	Name  string // empty for whoever has the token, and where nobody signs in
	Group string
	All   bool // may see and change every job
}

type visitorKey struct{}

// WithVisitor is a request that tells who asks.
func WithVisitor(r *http.Request, v Visitor) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), visitorKey{}, v))
}

// Of is who asks.
func Of(r *http.Request) Visitor {
	v, _ := r.Context().Value(visitorKey{}).(Visitor)
	return v
}

// Owns reports whether somebody may change what an owner, alone or with a group, has left:
// their own, their group's, and what belongs to nobody.
func (v Visitor) Owns(owner, group string) bool {
	return v.All || owner == "" || owner == v.Name || group != "" && group == v.Group
}
