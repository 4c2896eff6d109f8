package gpkg

import (
	"database/sql"
	"errors"
	"strings"
	"time"

	"loamline.example/export/layer"
)

// instantText is an instant as a column of type DATETIME has it (OGC 12-128r17,
// table 1): in Universal Time, to the millisecond.
func instantText(rfc3339 string) string {
	t, err := time.Parse(time.RFC3339Nano, rfc3339)
	if err != nil {
		return rfc3339 // nothing is lost for its form
	}
	return t.UTC().Round(time.Millisecond).Format("2006-01-02T15:04:05.000Z")
}

// instants are the columns that hold instants, as table.column.
var instants = func() map[string]bool {
	out := map[string]bool{}
	for _, l := range layer.AllWithVertices() {
		for _, c := range l.Columns {
			if c.Instant {
				out[l.Role+"."+c.Name] = true
			}
		}
	}
	return out
}()

// instantSQL does what instantText does.
func instantSQL(column string) string {
	return `COALESCE(strftime('%Y-%m-%dT%H:%M:%fZ', "` + column + `"), "` + column + `")`
}

// retyped is a column that gets another type.
type retyped struct{ column, from, to, value string }

// typeTimes makes dates and times of the texts that older programs kept in the
// tables of the layers.
func (p *writer) typeTimes() error {
	for _, l := range layer.AllWithVertices() {
		var changes []retyped
		for _, c := range l.Columns {
			value := `"` + c.Name + `"`
			if c.Instant {
				value = instantSQL(c.Name)
			}
			if c.Instant || c.Day {
				changes = append(changes, retyped{c.Name, `"` + c.Name + `" TEXT`, `"` + c.Name + `" ` + sqliteType(c), value})
			}
		}
		if err := p.retype(l.Role, changes...); err != nil {
			return err
		}
	}
	return nil
}

// typeLedger does the same in the ledger of version 2.
func (p *writer) typeLedger() error {
	return p.steps(
		func() error {
			return p.retype("archive_version", retyped{"date", "date TEXT NOT NULL", "date DATE", `NULLIF(date, '')`},
				retyped{"kept_at", "kept_at TEXT NOT NULL", "kept_at DATETIME", `NULLIF(` + instantSQL("kept_at") + `, '')`})
		},
		func() error { return p.exec(`UPDATE archive_schema SET version = ?`, archiveVersion) },
	)
}

// retype gives columns of a table other types. SQLite has no command for it: the
// table is made anew, with everything that somebody added to it, and filled. A
// column whose type was changed already stays as it is.
func (p *writer) retype(table string, changes ...retyped) error {
	var made string
	if err := p.tx.QueryRow(`SELECT sql FROM sqlite_master WHERE type = 'table' AND name = ?`, table).Scan(&made); err != nil {
		return err
	}
	to, values := made, map[string]string{}
	for _, c := range changes {
		if strings.Contains(to, c.from) {
			to = strings.Replace(to, c.from, c.to, 1)
			values[c.column] = c.value
		}
	}
	if len(values) == 0 {
		return nil
	}
	names, err := p.columnNames(table)
	if err != nil {
		return err
	}
	var columns, selected []string
	for _, n := range names {
		columns = append(columns, `"`+n+`"`)
		if v, ok := values[n]; ok {
			selected = append(selected, v)
		} else {
			selected = append(selected, `"`+n+`"`)
		}
	}
	besides, err := p.madeFor(table)
	if err != nil {
		return err
	}
	next := table + "_retyped"
	// Else a view that somebody made of the table would stop the renaming.
	if err := p.exec(`PRAGMA legacy_alter_table = ON`); err != nil {
		return err
	}
	for _, q := range append([]string{
		strings.Replace(to, table, next, 1),
		`INSERT INTO "` + next + `" (` + strings.Join(columns, ", ") + `) SELECT ` + strings.Join(selected, ", ") + ` FROM "` + table + `"`,
		`DROP TABLE "` + table + `"`,
		`ALTER TABLE "` + next + `" RENAME TO "` + table + `"`,
	}, besides...) {
		if err = p.exec(q); err != nil {
			break
		}
	}
	return errors.Join(err, p.exec(`PRAGMA legacy_alter_table = OFF`))
}

// madeFor lists what makes the indexes and triggers of a table, which go with it.
func (p *writer) madeFor(table string) ([]string, error) {
	rows, err := p.tx.Query(`SELECT sql FROM sqlite_master WHERE type IN ('index', 'trigger') AND tbl_name = ? AND sql IS NOT NULL ORDER BY rowid`, table)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var q sql.NullString
		if err := rows.Scan(&q); err != nil {
			return nil, err
		}
		out = append(out, q.String)
	}
	return out, rows.Err()
}
