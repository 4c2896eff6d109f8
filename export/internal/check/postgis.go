package check

import (
	"os"
	"testing"

	"github.com/jackc/pgx/v5"
)

// EmptyDatabase is the database that LOAMLINE_TEST_POSTGIS names, without the
// product's tables. The test is skipped where none is named.
func EmptyDatabase(t *testing.T) (url string) {
	t.Helper()
	url = os.Getenv("LOAMLINE_TEST_POSTGIS")
	if url == "" {
		t.Skip("LOAMLINE_TEST_POSTGIS is not set: nothing is tested against a database")
	}
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	if _, err := conn.Exec(t.Context(), "DROP SCHEMA IF EXISTS loamline CASCADE"); err != nil {
		t.Fatal(err)
	}
	return url
}
