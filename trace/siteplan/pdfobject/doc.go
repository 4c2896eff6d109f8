// Package pdfobject reads single objects of a PDF file (ISO 32000-2, clause 7): the
// pages, and what their dictionaries say.
//
// It is there for figures that a renderer does not hand out, such as where on the
// ground a page lies, and which it keeps in single precision: a degree of longitude
// needs double. Only what is asked for is read; what a file can make it unpack, follow
// and nest is bounded. Nothing is repaired: a file whose table of objects is broken
// is an error.
package pdfobject
