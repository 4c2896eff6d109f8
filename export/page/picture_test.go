package page

import (
	"testing"

	"github.com/chromedp/chromedp"

	"loamline/export/internal/check"
	"loamline/export/internal/sample"
	"loamline/export/webtest"
	"loamline/geo"
)

// The pictures of the page in the README, remade with
//
//	go test ./export/page -run TestPagePictures -update
//
// Browsers draw text differently from release to release, so they are looked
// at, not compared.
func TestPagePictures(t *testing.T) {
	if !*check.Update {
		t.Skip("pictures are remade with -update")
	}
	b := webtest.Open(t)
	desk := openPage(t, b, "sample", sample.Sheet(), 1440, 900, false)
	webtest.Eval[any](desk, "document.querySelector('.finding button.show').click(); document.activeElement.blur(); scrollTo(0, 0); null")
	desk.Picture("testdata/desk.png")
	phone := openPage(t, b, "sample", sample.Sheet(), 390, 800, true)
	x, y := screenXY(phone, geo.XY{X: 16, Y: 0.3})
	phone.Do(chromedp.TapXY(x, y))
	phone.Wait("document.querySelector('#figures .stop')")
	webtest.Eval[any](phone, "document.querySelector('.tools').scrollIntoView(); null")
	phone.Picture("testdata/phone.png")
}
