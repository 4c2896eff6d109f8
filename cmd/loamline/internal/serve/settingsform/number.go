package settingsform

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

var (
	// thousandsClear can only have separators of thousands: two groups at least,
	// or one and a decimal point.
	thousandsClear = regexp.MustCompile(`^[+-]?[1-9][0-9]{0,2}(,[0-9]{3}){2,}(\.[0-9]+)?$|^[+-]?[1-9][0-9]{0,2},[0-9]{3}\.[0-9]+$`)
	// thousandsOrNot is a figure that people of one country read as thousands and
	// those of another as decimals.
	thousandsOrNot = regexp.MustCompile(`^[+-]?[1-9][0-9]{0,2},[0-9]{3}$`)
	// pointOrNot is the same with a point, in a field whose numbers are whole.
	pointOrNot = regexp.MustCompile(`^[+-]?[1-9][0-9]{0,2}\.[0-9]{3}$`)
)

// readNumber reads a figure as people write it, with a decimal point or comma.
// One whose separator can mean thousands as well is no number until somebody
// says which: 33,000 Hz must never become 33.
func readNumber(field, text string) (float64, error) {
	plain := strings.Map(func(r rune) rune {
		if r == ' ' || r == '\u00a0' || r == '\u202f' || r == '\'' {
			return -1 // between groups of figures
		}
		return r
	}, text)
	whole := strings.HasSuffix(field, "freq_hz")
	switch {
	case thousandsClear.MatchString(plain):
		plain = strings.ReplaceAll(plain, ",", "")
	case thousandsOrNot.MatchString(plain), whole && pointOrNot.MatchString(plain):
		i := strings.IndexAny(plain, ",.")
		return 0, fmt.Errorf("this can be read as %s%s or as %s", plain[:i], plain[i+1:], strings.TrimRight(strings.TrimRight(plain[:i]+"."+plain[i+1:], "0"), "."))
	default:
		plain = strings.Replace(plain, ",", ".", 1)
	}
	n, err := strconv.ParseFloat(plain, 64)
	if err != nil || n-n != 0 || strings.ContainsAny(plain, "xXpPnNiI_") {
		return 0, errors.New("a number is wanted")
	}
	return n, nil
}
