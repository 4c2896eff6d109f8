package pdfpage

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"runtime"
	"strings"
	"sync"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// The bounds of a drawing. The time is counted from where the machine code is made; a
// crowded plan takes seconds, even on a machine that is busy otherwise.
const (
	mostMemory = 1 << 30
	mostTime   = 5 * time.Minute
	wasmPage   = 64 << 10
)

// ErrSlow is a page that takes longer than the time it is given.
var ErrSlow = fmt.Errorf("it takes more than %v to draw", mostTime)

// Drawn is a page as it was drawn, and what the renderer holds for its frame.
type Drawn struct {
	Picture *image.RGBA
	Box     [4]float64 // left, bottom, right and top of what is shown, before it is turned
	Turns   int        // quarters, clockwise
}

// machineCode is made once and shared by all drawings; made is whether it is there.
var (
	machineCode = sync.OnceValue(wazero.NewCompilationCache)
	made        bool // only looked at by the drawing whose turn it is
)

// oneAtATime holds a drawing back while another is made: each may need a gigabyte.
var oneAtATime = make(chan struct{}, 1)

// noChance is a source of random bytes of which there is one only: nothing of a
// drawing may differ between two runs.
type noChance struct{}

// Read implements io.Reader.
func (noChance) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// Draw draws a page, counted from 0, stretched to a size in pixels, on white.
func Draw(ctx context.Context, file []byte, page, width, height int) (*Drawn, error) {
	select {
	case oneAtATime <- struct{}{}:
		defer func() { <-oneAtATime }()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
	if !made {
		first, err := renderer(ctx)
		if err != nil {
			return nil, err
		}
		if err := first.Close(); err != nil {
			return nil, err
		}
		made = true
	}
	inTime, end := context.WithTimeoutCause(ctx, mostTime, ErrSlow)
	defer end()
	out, err := draw(inTime, file, page, width, height)
	if inTime.Err() != nil {
		return nil, context.Cause(inTime)
	}
	if err != nil {
		// Where the renderer gave up, a list of its functions follows.
		what, _, _ := strings.Cut(err.Error(), "\n")
		return nil, errors.New(what)
	}
	return out, nil
}

// renderer is PDFium with nothing within its reach. It ends with the context.
func renderer(ctx context.Context) (pdfium.Pool, error) {
	return webassembly.Init(webassembly.Config{
		Context: experimental.WithCompilationWorkers(ctx, runtime.GOMAXPROCS(0)),
		MaxIdle: 1, MaxTotal: 1,
		RuntimeConfig: wazero.NewRuntimeConfig().
			WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
			WithCompilationCache(machineCode()).
			WithMemoryLimitPages(mostMemory / wasmPage).
			WithCloseOnContextDone(true),
		FSConfig: wazero.NewFSConfig(), Stdout: io.Discard, Stderr: io.Discard, RandomSource: noChance{},
	})
}

func draw(ctx context.Context, file []byte, page, width, height int) (*Drawn, error) {
	pool, err := renderer(ctx)
	if err != nil {
		return nil, err
	}
	defer pool.Close()
	p, err := pool.GetInstanceWithContext(ctx)
	if err != nil {
		return nil, err
	}
	defer p.Close()
	doc, err := p.OpenDocument(&requests.OpenDocument{File: &file})
	if err != nil {
		return nil, err
	}
	loaded, err := p.FPDF_LoadPage(&requests.FPDF_LoadPage{Document: doc.Document, Index: page})
	if err != nil {
		return nil, err
	}
	return drawPage(p, requests.Page{ByReference: &loaded.Page}, width, height)
}

func drawPage(p pdfium.Pdfium, page requests.Page, width, height int) (*Drawn, error) {
	box, err := p.FPDF_GetPageBoundingBox(&requests.FPDF_GetPageBoundingBox{Page: page})
	if err != nil {
		return nil, err
	}
	turn, err := p.FPDFPage_GetRotation(&requests.FPDFPage_GetRotation{Page: page})
	if err != nil {
		return nil, err
	}
	sheet, err := p.FPDFBitmap_Create(&requests.FPDFBitmap_Create{Width: width, Height: height})
	if err != nil {
		return nil, err
	}
	if _, err := p.FPDFBitmap_FillRect(&requests.FPDFBitmap_FillRect{Bitmap: sheet.Bitmap, Width: width, Height: height, Color: 0xFFFFFFFF}); err != nil {
		return nil, err
	}
	if _, err := p.FPDF_RenderPageBitmap(&requests.FPDF_RenderPageBitmap{Bitmap: sheet.Bitmap, Page: page, SizeX: width, SizeY: height,
		Flags: enums.FPDF_RENDER_FLAG_ANNOT | enums.FPDF_RENDER_FLAG_REVERSE_BYTE_ORDER}); err != nil {
		return nil, err
	}
	ink, err := p.FPDFBitmap_GetBuffer(&requests.FPDFBitmap_GetBuffer{Bitmap: sheet.Bitmap})
	if err != nil {
		return nil, err
	}
	if len(ink.Buffer) != 4*width*height {
		return nil, errors.New("the renderer gives no picture")
	}
	out := &Drawn{Picture: image.NewRGBA(image.Rect(0, 0, width, height)), Turns: int(turn.PageRotation),
		Box: [4]float64{float64(box.Rect.Left), float64(box.Rect.Bottom), float64(box.Rect.Right), float64(box.Rect.Top)}}
	copy(out.Picture.Pix, ink.Buffer)
	for i := 3; i < len(out.Picture.Pix); i += 4 {
		out.Picture.Pix[i] = 255 // the fourth byte of a pixel is not used
	}
	return out, nil
}
