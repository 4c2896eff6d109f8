package tongue

import "sync"

var (
	listening sync.Mutex
	listener  func(english string)
)

// Listen tells of every sentence for which any Speaker has no words, until stop is
// called: a test that draws maps names them so.
func Listen(f func(english string)) (stop func()) {
	listening.Lock()
	defer listening.Unlock()
	listener = f
	return func() {
		listening.Lock()
		defer listening.Unlock()
		listener = nil
	}
}

func missed(english string) {
	listening.Lock()
	defer listening.Unlock()
	if listener != nil {
		listener(english)
	}
}
