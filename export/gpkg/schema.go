package gpkg

import (
	"errors"
	"net/url"
	"strings"

	"loamline.example/export/archive"
	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/member"
	"loamline.example/export/schema"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

func sqliteType(c layer.Column) string {
	switch {
	case c.Day:
		return "DATE"
	case c.Instant:
		return "DATETIME"
	}
	switch c.Type {
	case layer.TypeInteger:
		return "INTEGER"
	case layer.TypeReal:
		return "REAL"
	case layer.TypeBoolean:
		return "BOOLEAN"
	}
	return "TEXT"
}

func insertSQL(l layer.Layer) string {
	names := []string{"geom"}
	for _, c := range featuretable.Columns(l) {
		names = append(names, `"`+c.Name+`"`)
	}
	return `INSERT INTO "` + l.Role + `" (` + strings.Join(names, ", ") + `) VALUES (?` + strings.Repeat(", ?", len(names)-1) + ")"
}

// gpkgCore are the tables that the standard prescribes (OGC 12-128r17, annex C),
// those of the extensions used, and the job's own.
var gpkgCore = []string{
	`PRAGMA application_id = 1196444487`,
	`PRAGMA user_version = 10300`,
	`CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY, organization TEXT NOT NULL,
	 organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT)`,
	`CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE,
	 description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
	 min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
	 CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id))`,
	`CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL,
	 srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,
	 CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),
	 CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
	 CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id))`,
	`CREATE TABLE gpkg_extensions (table_name TEXT, column_name TEXT, extension_name TEXT NOT NULL, definition TEXT NOT NULL,
	 scope TEXT NOT NULL, CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))`,
	`CREATE TABLE gpkg_metadata (id INTEGER CONSTRAINT m_pk PRIMARY KEY ASC NOT NULL, md_scope TEXT NOT NULL DEFAULT 'dataset',
	 md_standard_uri TEXT NOT NULL, mime_type TEXT NOT NULL DEFAULT 'text/xml', metadata TEXT NOT NULL DEFAULT '')`,
	`CREATE TABLE gpkg_metadata_reference (reference_scope TEXT NOT NULL, table_name TEXT, column_name TEXT, row_id_value INTEGER,
	 timestamp DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), md_file_id INTEGER NOT NULL, md_parent_id INTEGER,
	 CONSTRAINT crmr_mfi_fk FOREIGN KEY (md_file_id) REFERENCES gpkg_metadata(id),
	 CONSTRAINT crmr_mpi_fk FOREIGN KEY (md_parent_id) REFERENCES gpkg_metadata(id))`,
	`INSERT INTO gpkg_extensions VALUES
	 ('gpkg_metadata', NULL, 'gpkg_metadata', 'http://www.geopackage.org/spec120/#extension_metadata', 'read-write'),
	 ('gpkg_metadata_reference', NULL, 'gpkg_metadata', 'http://www.geopackage.org/spec120/#extension_metadata', 'read-write')`,
	`INSERT INTO gpkg_spatial_ref_sys VALUES
	 ('Undefined Cartesian SRS', -1, 'NONE', -1, 'undefined', 'undefined Cartesian coordinate reference system'),
	 ('Undefined geographic SRS', 0, 'NONE', 0, 'undefined', 'undefined geographic coordinate reference system')`,
	`CREATE TABLE job (id INTEGER PRIMARY KEY NOT NULL, "key" TEXT NOT NULL UNIQUE, name TEXT NOT NULL, ticket TEXT, date DATE,
	 valid_until DATE, locator TEXT, area TEXT, frame TEXT, version TEXT, rows INTEGER, used INTEGER, set_aside INTEGER,
	 "check" INTEGER, exposed INTEGER, unreadable INTEGER, cautions TEXT, advice TEXT,
	 inputs TEXT, metadata_id INTEGER)`,
	`CREATE TABLE layer_styles (id INTEGER PRIMARY KEY NOT NULL, f_table_catalog TEXT(256), f_table_schema TEXT(256),
	 f_table_name TEXT(256), f_geometry_column TEXT(256), styleName TEXT(30), styleQML TEXT, styleSLD TEXT, useAsDefault BOOLEAN,
	 description TEXT, owner TEXT(30), ui TEXT(30), update_time DATETIME)`,
}

// create makes an empty GeoPackage without its triggers.
func (p *writer) create() error {
	for _, q := range gpkgCore {
		if err := p.exec(q); err != nil {
			return err
		}
	}
	wgs84, err := geo.LookupCRS("EPSG:4326")
	if err != nil {
		return err
	}
	for _, c := range []geo.CRS{wgs84, p.frame.CRS} {
		definition := c.WKT()
		if definition == "" {
			definition = "undefined" // readers go by the code
		}
		if err := p.exec(`INSERT OR IGNORE INTO gpkg_spatial_ref_sys VALUES (?, ?, 'EPSG', ?, ?, '')`, c.Name, c.Code, c.Code, definition); err != nil {
			return err
		}
	}
	for _, l := range layer.AllWithVertices() {
		if err := p.createTable(l); err != nil {
			return err
		}
	}
	for _, t := range []string{"job", "layer_styles"} {
		if err := p.exec(`INSERT INTO gpkg_contents (table_name, data_type, identifier, last_change) VALUES (?, 'attributes', ?, ?)`, t, t, p.stamp); err != nil {
			return err
		}
	}
	return p.putStyles()
}

func (p *writer) createTable(l layer.Layer) error {
	name := featuretable.TypeName(featuretable.Code(l))
	cols := []string{"fid INTEGER PRIMARY KEY NOT NULL", "geom " + name}
	for i, c := range featuretable.Columns(l) {
		col := `"` + c.Name + `" ` + sqliteType(c)
		if i < featuretable.KeyColumns {
			col += " NOT NULL"
		}
		cols = append(cols, col)
	}
	return p.steps(
		func() error { return p.exec(`CREATE TABLE "` + l.Role + `" (` + strings.Join(cols, ", ") + ")") },
		func() error {
			return p.exec(`INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, srs_id)
			 VALUES (?, 'features', ?, ?, ?, ?)`, l.Role, words.RoleTitle(l.Role), l.Words, p.stamp, p.frame.CRS.Code)
		},
		func() error {
			return p.exec(`INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, 0, 0)`, l.Role, name, p.frame.CRS.Code)
		},
		func() error {
			return p.exec(`CREATE VIRTUAL TABLE "rtree_` + l.Role + `_geom" USING rtree(id, minx, maxx, miny, maxy)`)
		},
		func() error {
			return p.exec(`INSERT INTO gpkg_extensions VALUES (?, 'geom', 'gpkg_rtree_index',
			 'http://www.geopackage.org/spec120/#extension_rtree', 'write-only')`, l.Role)
		},
	)
}

// triggerNames of a spatial index, in the form of GeoPackage 1.2 and 1.3.
var triggerNames = []string{"insert", "update1", "update2", "update3", "update4", "delete"}

// createTriggers keeps the index right when a GIS edits the tables. They call
// functions that only a GIS has, so they come last and go before our own edits.
func (p *writer) createTriggers() error {
	for _, l := range layer.AllWithVertices() {
		t, r := `"`+l.Role+`"`, `"rtree_`+l.Role+`_geom"`
		enter := `INSERT OR REPLACE INTO ` + r + ` VALUES (NEW.fid, ST_MinX(NEW.geom), ST_MaxX(NEW.geom), ST_MinY(NEW.geom), ST_MaxY(NEW.geom));`
		leave := `DELETE FROM ` + r + ` WHERE id = OLD.fid;`
		full, empty := `(NEW.geom NOTNULL AND NOT ST_IsEmpty(NEW.geom))`, `(NEW.geom ISNULL OR ST_IsEmpty(NEW.geom))`
		bodies := []string{
			`AFTER INSERT ON ` + t + ` WHEN ` + full + ` BEGIN ` + enter + ` END`,
			`AFTER UPDATE OF geom ON ` + t + ` WHEN OLD.fid = NEW.fid AND ` + full + ` BEGIN ` + enter + ` END`,
			`AFTER UPDATE OF geom ON ` + t + ` WHEN OLD.fid = NEW.fid AND ` + empty + ` BEGIN ` + leave + ` END`,
			`AFTER UPDATE ON ` + t + ` WHEN OLD.fid != NEW.fid AND ` + full + ` BEGIN ` + leave + ` ` + enter + ` END`,
			`AFTER UPDATE ON ` + t + ` WHEN OLD.fid != NEW.fid AND ` + empty + ` BEGIN DELETE FROM ` + r + ` WHERE id IN (OLD.fid, NEW.fid); END`,
			`AFTER DELETE ON ` + t + ` WHEN OLD.geom NOT NULL BEGIN ` + leave + ` END`,
		}
		for i, body := range bodies {
			if err := p.exec(`CREATE TRIGGER "rtree_` + l.Role + `_geom_` + triggerNames[i] + `" ` + body); err != nil {
				return err
			}
		}
	}
	return nil
}

func (p *writer) dropTriggers() error {
	for _, l := range layer.AllWithVertices() {
		for _, n := range triggerNames {
			if err := p.exec(`DROP TRIGGER IF EXISTS "rtree_` + l.Role + `_geom_` + n + `"`); err != nil {
				return err
			}
		}
	}
	return nil
}

// addColumns gives the archive of an older program the tables and columns that
// layers have got since; what was kept before has nothing in them.
func (p *writer) addColumns() error {
	for _, l := range layer.AllWithVertices() {
		have := map[string]bool{}
		rows, err := p.tx.Query(`SELECT name FROM pragma_table_info(?)`, l.Role)
		if err != nil {
			return err
		}
		for rows.Next() {
			var name string
			if err := rows.Scan(&name); err != nil {
				rows.Close()
				return err
			}
			have[name] = true
		}
		if err := errors.Join(rows.Err(), rows.Close()); err != nil {
			return err
		}
		if len(have) == 0 {
			if err := p.steps(func() error { return p.createTable(l) }, func() error { return p.putLayerStyle(l) }); err != nil {
				return err
			}
			continue
		}
		for _, c := range l.Columns {
			if !have[c.Name] {
				if err := p.exec(`ALTER TABLE "` + l.Role + `" ADD COLUMN "` + c.Name + `" ` + sqliteType(c)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// putJob writes the job's row and its metadata.
func (p *writer) putJob(s *trace.Sheet, key string) error {
	metadata, err := member.Text(s)
	if err != nil {
		return err
	}
	id, err := p.putMetadata(metadata)
	if err != nil {
		return err
	}
	c := s.Counts
	return p.exec(`INSERT INTO job ("key", name, ticket, date, valid_until, locator, area, frame, version, rows, used, set_aside, "check",
	 exposed, unreadable, cautions, advice, inputs, metadata_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		key, s.Name, featuretable.NullText(s.Job.Ticket), featuretable.NullText(words.JobDate(s)), featuretable.NullText(s.Job.ValidUntil), featuretable.NullText(s.Job.Locator), featuretable.NullText(s.Job.Area),
		s.Frame.In(s.Job.Units), s.Version, c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable,
		strings.Join(words.Cautions(s), "\n"), strings.Join(words.Advice(s), "\n"), strings.Join(archive.InputNames(s), "\n"), id)
}

// putMetadata writes a job's member loamline and returns its number.
func (p *writer) putMetadata(metadata string) (int64, error) {
	res, err := p.tx.Exec(`INSERT INTO gpkg_metadata (md_scope, md_standard_uri, mime_type, metadata) VALUES ('dataset', ?, 'application/json', ?)`,
		metadataURI, metadata)
	if err != nil {
		return 0, err
	}
	id, err := res.LastInsertId()
	if err != nil {
		return 0, err
	}
	return id, p.exec(`INSERT INTO gpkg_metadata_reference (reference_scope, timestamp, md_file_id) VALUES ('geopackage', ?, ?)`, p.stamp, id)
}

// sqlitePath readies a file name for a URI.
func sqlitePath(path string) string {
	return (&url.URL{Path: path}).EscapedPath()
}

// metadataURI names the content of a job's metadata: the member loamline of the
// GeoJSON.
const metadataURI = "urn:loamline:geojson:" + schema.Version
