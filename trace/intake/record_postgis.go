package intake

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"loamline.example/trace"
	"loamline.example/trace/setting"
)

// connectWithin is how long a database may take to answer at all.
const connectWithin = 20 * time.Second

// addDatabase reads a table of a PostGIS database into the source. Its rows are
// read in one transaction that changes nothing, in an order of their own, so that
// the same table gives the same records and the same fingerprint.
//
// A city's table is long and a job is short: what lies within reach of the readings
// is read alone, by the table's spatial index. Where that is nothing, the whole
// table is, for it may tell why, such as by longitude and latitude swapped.
func addDatabase(ctx context.Context, s *trace.Source, f ReferenceFile) error {
	readings, err := setting.Frame(setting.DatedBy(s.Job, s.Readings))
	if err != nil {
		return err
	}
	h := sha256.New()
	read := 0
	err = readRecords(s, f, func(l *layerReader) error {
		t := &databaseReader{l: l, within: reachOf(s, readings), see: func(parts ...[]byte) {
			read++
			for _, p := range parts {
				h.Write(binary.BigEndian.AppendUint32(nil, uint32(len(p))))
				h.Write(p)
			}
		}}
		return t.read(ctx)
	})
	var p *trace.Problem
	switch {
	case err == nil:
		s.Inputs = append(s.Inputs, trace.Input{Name: f.Name, SHA256: sum(h), Kind: trace.InputReference})
		return nil
	case errors.As(err, &p), ctx.Err() != nil:
		return err
	}
	cause, hint := "the database cannot be read: ", "check its address, that it is running, and that it may be read"
	if read > 0 {
		cause, hint = fmt.Sprintf("the connection to the database broke off after %d rows: ", read), "try again; nothing was written"
	}
	return &trace.Problem{File: f.Name, Cause: cause + databaseWords(err), Hint: hint}
}

// databaseWords is a database's error without the address, which its driver
// repeats and which may hold a user's name.
func databaseWords(err error) string {
	var connect *pgconn.ConnectError
	if errors.As(err, &connect) && connect.Unwrap() != nil {
		err = connect.Unwrap()
	}
	return err.Error()
}

type databaseReader struct {
	l      *layerReader
	within reach
	see    func(parts ...[]byte)
}

func (t *databaseReader) read(ctx context.Context) error {
	connecting, cancel := context.WithTimeout(ctx, connectWithin)
	conn, err := pgx.Connect(connecting, t.l.ref.Database)
	cancel()
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	tx, err := conn.BeginTx(ctx, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly})
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback(context.WithoutCancel(ctx)) }() // it changed nothing
	y, err := t.table(ctx, tx)
	if err != nil {
		return err
	}
	if !t.l.ref.Background && holdsAreas(y.kind) {
		return areasProblem(t.l.file, fmt.Sprintf("the table holds areas (%s) and no line", y.kind))
	}
	if t.l.ref.CRS == "" {
		if y.code == 0 {
			return t.l.badLayer("crs", "", "the table's geometry has no reference system", "name it in the layer's [[reference]]: crs = \"EPSG:…\"")
		}
		if err := t.l.ownSystem(fmt.Sprintf("EPSG:%d", y.code)); err != nil {
			return err
		}
	}
	return t.rows(ctx, tx, y)
}

// tableLayer is a table with geometry.
type tableLayer struct {
	schema, table, column, kind string
	code                        int // as EPSG has it
	srid                        int // as the database numbers it
}

func (t *databaseReader) table(ctx context.Context, tx pgx.Tx) (tableLayer, error) {
	rows, err := tx.Query(ctx, `SELECT g.f_table_schema::text, g.f_table_name::text, g.f_geometry_column::text, UPPER(g.type::text),
	 CASE WHEN UPPER(s.auth_name) = 'EPSG' THEN s.auth_srid ELSE g.srid END, g.srid
	 FROM geometry_columns g LEFT JOIN spatial_ref_sys s ON s.srid = g.srid ORDER BY 1, 2, 3`)
	if err != nil {
		return tableLayer{}, err
	}
	all, err := pgx.CollectRows(rows, func(r pgx.CollectableRow) (y tableLayer, err error) {
		var code *int
		if err = r.Scan(&y.schema, &y.table, &y.column, &y.kind, &code, &y.srid); code != nil {
			y.code = *code
		}
		return y, err
	})
	if err != nil {
		return tableLayer{}, err
	}
	want := t.l.ref.Layer
	var found []tableLayer
	var names []string
	for _, y := range all {
		names = append(names, y.schema+"."+y.table)
		if want == y.table || want == y.schema+"."+y.table {
			found = append(found, y)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1 && found[0].schema != found[len(found)-1].schema:
		return tableLayer{}, t.l.badLayer("table", want, "several schemas have a table of this name", "write table = \""+found[0].schema+"."+want+"\"")
	case len(found) > 1:
		return tableLayer{}, t.l.badLayer("table", want, "the table has several geometry columns", "make a view with one of them, and name the view")
	case len(names) == 0:
		return tableLayer{}, t.l.badLayer("table", want, "the database has no table with geometry that may be read", "check the database's name and the rights of its user")
	}
	return tableLayer{}, t.l.badLayer("table", want, "the database has no such table with geometry", "it has: "+strings.Join(cutList(names, 20), ", "))
}

func cutList(names []string, n int) []string {
	if len(names) > n {
		return append(names[:n:n], fmt.Sprintf("and %d more", len(names)-n))
	}
	return names
}

// nearSQL is what a row within reach fulfils, and what it is asked with; nothing
// where the whole table is to be read.
func (t *databaseReader) nearSQL(ctx context.Context, tx pgx.Tx, y tableLayer) (where string, args []any, err error) {
	box, ok := t.within.in(t.l.frame)
	if !ok {
		return "", nil, nil
	}
	where = ` WHERE t.` + pgx.Identifier{y.column}.Sanitize() + ` && ST_MakeEnvelope($1, $2, $3, $4, $5)`
	args = []any{box.west, box.south, box.east, box.north, y.srid}
	some := false
	err = tx.QueryRow(ctx, `SELECT EXISTS (SELECT 1`+y.from()+where+`)`, args...).Scan(&some)
	if !some {
		return "", nil, err
	}
	return where, args, err
}

func (y tableLayer) from() string {
	return ` FROM ` + pgx.Identifier{y.schema, y.table}.Sanitize() + ` t`
}

func (t *databaseReader) rows(ctx context.Context, tx pgx.Tx, y tableLayer) error {
	where, args, err := t.nearSQL(ctx, tx, y)
	if err != nil {
		return err
	}
	column := fmt.Sprintf("$%d::text", len(args)+1)
	rows, err := tx.Query(ctx, `SELECT COALESCE(ST_AsBinary(t.`+pgx.Identifier{y.column}.Sanitize()+`), ''::bytea), to_jsonb(t) - `+column+y.from()+where+` ORDER BY 1, 2`, append(args, y.column)...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var wkb, properties []byte
		if err := rows.Scan(&wkb, &properties); err != nil {
			return err
		}
		t.see(wkb, properties)
		all := map[string]any{}
		if err := json.Unmarshal(properties, &all); err != nil {
			return err
		}
		t.l.take(wkbShape(wkb, t.l.frame, t.l.ref.Background), t.l.fromColumns(all, nil), 0)
	}
	return rows.Err()
}
