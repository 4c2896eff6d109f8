// Package testdatabase gives tests a database of their own. It stands alone, so that only
// tests that ask one are linked with a client of it.
package testdatabase

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
)

// Empty is a database of this test program's own, without the product's
// tables, on the server that LOAMLINE_TEST_POSTGIS names: tests of several packages
// run at once. The test is skipped where no server is named.
func Empty(t *testing.T) (address string) {
	t.Helper()
	if os.Getenv("LOAMLINE_TEST_POSTGIS") == "" {
		t.Skip("LOAMLINE_TEST_POSTGIS is not set: nothing is tested against a database")
	}
	address, err := ownDatabase()
	if err == nil {
		err = execute(t.Context(), address, "DROP SCHEMA IF EXISTS loamline CASCADE")
	}
	if err != nil {
		t.Fatal(err)
	}
	return address
}

// ownDatabase makes the database once; it goes with the throw-away server.
var ownDatabase = sync.OnceValues(func() (string, error) {
	server := os.Getenv("LOAMLINE_TEST_POSTGIS")
	u, err := url.Parse(server)
	if err != nil {
		return "", err
	}
	name := fmt.Sprintf("loamline_%d", os.Getpid())
	if err := execute(context.Background(), server, "DROP DATABASE IF EXISTS "+name); err != nil {
		return "", err
	}
	if err := execute(context.Background(), server, "CREATE DATABASE "+name); err != nil {
		return "", err
	}
	u.Path = "/" + name
	return u.String(), execute(context.Background(), u.String(), "CREATE EXTENSION postgis")
})

func execute(ctx context.Context, address, query string) error {
	conn, err := pgx.Connect(ctx, address)
	if err != nil {
		return err
	}
	defer conn.Close(context.Background())
	_, err = conn.Exec(ctx, query)
	return err
}
