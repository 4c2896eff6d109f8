package trace

import (
	"net/url"
	"strings"

	"loamline.example/geo"
)

// Job is everything the user says about a job beside the readings. The zero
// value of a field means not said; DefaultJob fills in what has a default.
type Job struct {
	// ID is what the job goes by in an archive, where that is stated: the same ID
	// again is the same job done again, whatever its files.
	ID         string
	Ticket     string
	Date       string // YYYY-MM-DD
	ValidUntil string
	Locator    string
	Area       string
	Units      geo.Units
	Language   string  // of what the crew reads: English, Spanish or both; "" is English
	CRS        string  // "EPSG:4326"
	Datum      string  // "" where not stated
	Epoch      float64 // decimal year, 0 where not stated
	AntennaGap float64 // metres, Unknown where not stated

	// VerticalDatum names what ground elevations are above; without it the map
	// gives no elevation of a line.
	VerticalDatum string
	// GNSSOffsetS is added to a reading's time to get the GNSS log's time.
	GNSSOffsetS float64

	// OutputCRS is the system in which GeoPackage, PostGIS, tables, drawings and the
	// sheet's grid are written; empty is WGS 84 degrees.
	OutputCRS string

	Tolerance  Tolerance
	Contact    Contact
	Columns    map[string]string // reader's name -> file's header
	Lines      []LineSetup
	References []Reference
	Features   []FixedFeature
	Underlay   UnderlaySetup

	// Sheets chooses what is printed: "crew", "full" or "both"; "" is both.
	Sheets string
	// PageURL is where the page will be found, for the crew sheet's code; "" where
	// it is put up nowhere.
	PageURL string

	// Dir is the folder of the job file, for its relative names.
	Dir string
}

// The languages that a crew can read. The API, the files' own names and messages
// stay English.
const (
	English           = "en"
	Spanish           = "es"
	EnglishAndSpanish = "en+es"
)

// The choices of what is printed.
const (
	SheetsCrew = "crew"
	SheetsFull = "full"
	SheetsBoth = "both"
)

// Tolerance is the rule by which the tolerance zone is drawn.
type Tolerance struct {
	HalfWidthM   float64
	MeasuredFrom string // FromEdge or FromCenterline
	Rule         string // which law or practice; printed on the map
}

// Contact is whom a crew calls where a line is hit. What is empty was not stated.
type Contact struct {
	Owner      string // of the lines
	OwnerPhone string
	Emergency  string // the number to call first
}

// What a tolerance zone is measured from.
const (
	FromEdge       = "edge"       // the line's outer edge
	FromCenterline = "centerline" // its centre
)

// LineSetup is what the job says about one line.
type LineSetup struct {
	Name        string
	Utility     Utility
	DiameterM   float64 // outer; Unknown where not stated
	Material    string
	Hookup      Hookup
	FreqHz      float64
	PowerW      float64
	Transmitter *geo.LonLat
}

// FixedFeature is what the job says of a thing on the ground that will still be
// there when the paint is gone, such as a hydrant: a tape is held to it.
type FixedFeature struct {
	Name string
	// X and Y are its place in the job's reference system and datum: longitude and
	// latitude, or east and north in metres where Grid is set.
	X, Y float64
	Grid bool
}

// Reference is a layer of known lines.
type Reference struct {
	File    string
	Utility Utility
	CRS     string  // empty where the layer's own or WGS 84 degrees
	Datum   string  // empty where not stated
	Epoch   float64 // decimal year, 0 where the readings' stands for it

	Layer      string // of a file that holds several; empty where it holds one
	Table      string // of a database, "table" or "schema.table"
	NameColumn string // that the lines' names are in; empty takes the usual ones
	Role       string // RoleLine or RoleBackground; empty is RoleLine
}

// What a reference layer is to a map.
const (
	RoleLine       = "line"       // lines of utilities: neighbours, and compared with the trace
	RoleBackground = "background" // kerbs, walls, buildings: drawn and measured from
)

// InDatabase reports whether the layer is a table of a database and no file.
func (r Reference) InDatabase() bool {
	return strings.HasPrefix(r.File, "postgres://") || strings.HasPrefix(r.File, "postgresql://")
}

// ShownName is what people are shown of the layer: a file's name, or a database's
// host and table, never who opens it and how.
func (r Reference) ShownName() string {
	if !r.InDatabase() {
		return r.File
	}
	host := "a database"
	if u, err := url.Parse(r.File); err == nil && u.Host != "" {
		host = u.Hostname() + u.EscapedPath()
	}
	return host + " " + r.Table
}

// DefaultJob returns the settings of a run without a job file: 18 in from the
// outer edge (CGA Best Practices 5-19), metric, WGS 84 degrees.
func DefaultJob() Job {
	return Job{
		Units: geo.Metric, CRS: "EPSG:4326", AntennaGap: Unknown,
		Tolerance: Tolerance{HalfWidthM: 18 * geo.InchM, MeasuredFrom: FromEdge},
		Underlay:  UnderlaySetup{Opacity: DefaultOpacity},
	}
}

// Setup returns what the job says about a line, or an empty setup.
func (j Job) Setup(name string) LineSetup {
	for _, l := range j.Lines {
		if l.Name == name {
			return l
		}
	}
	return LineSetup{Name: name, Utility: UnknownKind, DiameterM: Unknown, FreqHz: Unknown, PowerW: Unknown}
}

// Utility is a class of the uniform temporary-marking colour code.
type Utility string

// The classes. Colours and letter codes belong to the exporters.
const (
	Electric      Utility = "electric"
	Gas           Utility = "gas"
	Communication Utility = "communication"
	Water         Utility = "water"
	Reclaimed     Utility = "reclaimed"
	Sewer         Utility = "sewer"
	UnknownKind   Utility = "unknown"
)

// Known reports whether it is said what a line is.
func (u Utility) Known() bool { return u != "" && u != UnknownKind }

// Utilities lists every class, in the order of legends.
func Utilities() []Utility {
	return []Utility{Electric, Gas, Communication, Water, Reclaimed, Sewer, UnknownKind}
}
