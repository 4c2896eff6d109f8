// Package pdfpage draws a page of a PDF as a picture.
//
// It is drawn by PDFium, compiled to WebAssembly: the same picture on every machine,
// without a C compiler, and with nothing within reach but the file's own bytes: no
// folder, no clock, no font of the machine, bounded memory and bounded time. The
// machine code is made when the first page is drawn, which takes seconds, and only
// then.
package pdfpage
