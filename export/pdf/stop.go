package pdf

// ended carries why a drawing ends out of however deep it is.
type ended struct{ why error }

// goOn ends the drawing where the writer takes nothing any more. It is asked before
// every sheet, every layer of a plan, every place tried for one, every paragraph and every
// row: what lies between two of them is soon done.
func (p *pencil) goOn() {
	if p.asked == nil {
		return
	}
	if err := p.asked(); err != nil {
		panic(ended{err})
	}
}

// stopsHere makes an error of a drawing that was ended.
func stopsHere(err *error) {
	switch p := recover().(type) {
	case nil:
	case ended:
		*err = p.why
	default:
		panic(p)
	}
}
