package intake

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"loamline.example/geo"
	"loamline.example/trace"
)

// What follows are the values that a key of a job file may have, each set where it is to
// go or refused with what is wanted.

func text(to *string) func(any) error {
	return func(v any) error {
		s, ok := v.(string)
		if !ok {
			return fmt.Errorf("a text in quotes is required, not %v", v)
		}
		*to = s
		return nil
	}
}

func number(to *float64) func(any) error {
	return func(v any) error {
		switch n := v.(type) {
		case float64:
			if math.IsNaN(n) || math.IsInf(n, 0) {
				return errors.New("a number is required, not nan or inf")
			}
			*to = n
		case int64:
			*to = float64(n)
		default:
			if s, ok := v.(string); ok && strings.Contains(s, ",") {
				return fmt.Errorf("a number without quotes is required, not %q; its decimal mark is a point", s)
			}
			return fmt.Errorf("a number without quotes is required, not %v", v)
		}
		return nil
	}
}

// day accepts a TOML date or its text.
func day(to *string) func(any) error {
	return func(v any) error {
		switch d := v.(type) {
		case toml.LocalTime:
			return errors.New("must be a day, such as 2026-05-12, not a time of day")
		case toml.LocalDate:
			*to = d.String()
		case toml.LocalDateTime:
			*to = d.LocalDate.String()
		case time.Time:
			*to = d.Format(time.DateOnly)
		case string:
			if _, err := time.Parse(time.DateOnly, d); err != nil {
				return fmt.Errorf("%q is not a day: "+writeDay, d)
			}
			*to = d
		default:
			return fmt.Errorf("must be a day, such as 2026-05-12, not %v", v)
		}
		return nil
	}
}

func length(to *float64) func(any) error {
	return func(v any) error {
		s, ok := v.(string)
		if !ok {
			return fmt.Errorf("a length with its unit, in quotes, is required, such as \"18 in\", not %v", v)
		}
		m, err := geo.ParseLength(s)
		if err != nil {
			return err
		}
		if !(m > 0) {
			return fmt.Errorf("%q must be more than nothing", s)
		}
		*to = m
		return nil
	}
}

func utility(to *trace.Utility) func(any) error {
	return func(v any) error {
		names := make([]string, 0, len(trace.Utilities()))
		for _, u := range trace.Utilities() {
			if v == string(u) {
				*to = u
				return nil
			}
			names = append(names, string(u))
		}
		return fmt.Errorf("%v is not a class of the marking colour code: use one of %s%s", v, strings.Join(names, ", "), nearestIs(v, names))
	}
}

func hookup(to *trace.Hookup) func(any) error {
	return func(v any) error {
		var r trace.Reading
		s, _ := v.(string)
		if setHookup(&r, s) != nil {
			right := []string{string(trace.HookupDirect), string(trace.HookupClamp), string(trace.HookupInduction), string(trace.HookupPassive)}
			return fmt.Errorf("%v is not a hookup: use one of %s%s", v, strings.Join(right, ", "), nearestIs(v, right))
		}
		*to = r.Hookup
		return nil
	}
}

func position(to **geo.LonLat) func(any) error {
	return func(v any) error {
		list, ok := v.([]any)
		var p geo.LonLat
		if !ok || len(list) != 2 || number(&p.LonDeg)(list[0]) != nil || number(&p.LatDeg)(list[1]) != nil {
			return errors.New("longitude and latitude are required: [ -71.50231, 44.10342 ]")
		}
		if !p.Valid() {
			return fmt.Errorf("%g, %g is not a longitude and latitude; longitude comes first", p.LonDeg, p.LatDeg)
		}
		*to = &p
		return nil
	}
}
