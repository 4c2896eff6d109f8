// Package ptytest opens terminals that tests write to and read from.
package ptytest

import (
	"fmt"
	"os"
	"testing"

	"golang.org/x/sys/unix"
)

// Open opens a pseudo-terminal: what is written to the user's side can be
// read from the other.
func Open(t *testing.T) (screen, user *os.File) {
	t.Helper()
	screen, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Skipf("no pseudo-terminals here: %v", err)
	}
	t.Cleanup(func() { screen.Close() })
	fd := int(screen.Fd())
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0)
	}
	if err == nil {
		err = unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: 80})
	}
	if err != nil {
		t.Skipf("no pseudo-terminals here: %v", err)
	}
	user, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("no pseudo-terminals here: %v", err)
	}
	return screen, user
}
