package disk

// NotStored is why a file that was handed in is not there any more.
type NotStored struct{ Err error }

func (n *NotStored) Error() string { return n.Err.Error() }

func (n *NotStored) Unwrap() error { return n.Err }

// NotWritten is why the files of a run could not be written. Its words name
// places on the server's disk and are for the log.
type NotWritten struct{ Err error }

func (n *NotWritten) Error() string { return n.Err.Error() }

func (n *NotWritten) Unwrap() error { return n.Err }
