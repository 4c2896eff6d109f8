package postgis

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"loamline.example/export/archive"
)

// locks are what a writer waits for at the start of its transaction, so that what
// it has read of the ledger stays true to its end.
type locks func(ctx context.Context, tx pgx.Tx) error

// alone waits until nobody else writes.
func alone(ctx context.Context, tx pgx.Tx) error {
	_, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext('loamline archive'))`)
	return err
}

// besides waits for those only who write a job that could be taken for this one:
// of the same base, told by the same name, or from the same readings. All others
// write at the same time.
func besides(id archive.Identity, base string) locks {
	names := []string{"base " + base}
	if id.Stated != "" {
		names = append(names, "stated "+id.Stated)
	}
	for _, f := range id.Files {
		names = append(names, "file "+f)
	}
	slices.Sort(names) // all take them in one order, and none waits for one that waits for it
	return func(ctx context.Context, tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock_shared(hashtext('loamline archive'))`); err != nil {
			return err
		}
		for _, n := range names {
			if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext('loamline job'), hashtext($1))`, n); err != nil {
				return err
			}
		}
		return nil
	}
}

// maxTries is how often a transaction is begun that came into another's way.
const maxTries = 20

// write does something in one transaction. Where another writer was at the same
// job after all, the database refuses the later one, as the number of a version is
// given once, and that begins again with what it finds then.
func (a *database) write(ctx context.Context, wait locks, do func(tx pgx.Tx) error) error {
	err := a.again(ctx, func(tx pgx.Tx) error {
		if err := wait(ctx, tx); err != nil {
			return err
		}
		return do(tx)
	})
	if err != nil {
		return fmt.Errorf("archive database: %w; it is as it was", err)
	}
	return nil
}

// again does something in a transaction, and once more where that came into
// another's way.
func (a *database) again(ctx context.Context, do func(tx pgx.Tx) error) error {
	for try := 1; ; try++ {
		if err := pgx.BeginFunc(ctx, a.conn, do); !inTheWay(err) || try == maxTries {
			return err
		}
	}
}

// inTheWay reports whether a transaction failed for another that ran at the same
// time (PostgreSQL's manual, appendix A).
func inTheWay(err error) bool {
	const uniqueViolation, serializationFailure, deadlockDetected = "23505", "40001", "40P01"
	var e *pgconn.PgError
	return errors.As(err, &e) && (e.Code == uniqueViolation || e.Code == serializationFailure || e.Code == deadlockDetected)
}
