// Package schema publishes the JSON Schema of loamline's GeoJSON and the table
// of its fields (README.md).
package schema

import _ "embed"

// Version is the version of the schema: the major number changes when a stable
// field changes or goes, the minor one when something is added.
const Version = "2.0"

// JSON is the schema, JSON Schema draft 2020-12. It describes structure; what a
// schema cannot see (closed rings, winding, the antimeridian) is RFC 7946's.
//
//go:embed loamline-2.0.schema.json
var JSON []byte
