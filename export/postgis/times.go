package postgis

// dayWords is a day as YYYY-MM-DD, however the connection writes days; empty where
// there is none.
func dayWords(column string) string {
	return `COALESCE(to_char(` + column + `, 'YYYY-MM-DD'), '')`
}

// instantWords is an instant in Universal Time, as RFC 3339 has it.
func instantWords(column string) string {
	return `COALESCE(to_char(` + column + ` AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"'), '')`
}
