package setting

import (
	"fmt"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// leastOpacity is where a picture is still seen.
const leastOpacity = 0.05

// checkUnderlay reports the first setting that cannot be used, and its key in the job file.
func checkUnderlay(u trace.UnderlaySetup) (key string, err error) {
	switch {
	case u.File == "" && (u.CRS != "" || u.Datum != "" || u.Epoch != 0 || u.Page != 0 || u.DPI != 0):
		return "file", fmt.Errorf("the site plan is not named: write file = \"plan.tif\"")
	case u.File == "":
		return "", nil
	case !(u.Opacity >= leastOpacity && u.Opacity <= 1):
		return "opacity", fmt.Errorf("%g is not an opacity between %g (hardly seen) and 1 (hides the ground)", u.Opacity, leastOpacity)
	case u.Page < 0:
		return "page", fmt.Errorf("%d is not a page: they are counted from 1", u.Page)
	case u.DPI != 0 && !(u.DPI >= 1 && u.DPI <= 10_000):
		return "dpi", fmt.Errorf("%g is not a number of dots per inch: 72 is for the page's points", u.DPI)
	case strings.Contains(u.File, "://"):
		return "file", fmt.Errorf("%q is an address: save the site plan beside the job file and name it", trace.Shorten(u.File))
	case u.CRS == "" && u.Datum == "" && u.Epoch == 0:
		return "", nil
	}
	if _, err := geo.LookupCRS(u.CRS); u.CRS != "" && err != nil {
		return "crs", err
	}
	if _, err := geo.NewFrame(u.CRS, u.Datum, u.Epoch); err != nil {
		return "datum", err
	}
	return "", nil
}
