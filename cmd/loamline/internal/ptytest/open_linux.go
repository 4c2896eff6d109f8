// Package ptytest opens terminals that tests write to and read from.
package ptytest

import (
	"bufio"
	"fmt"
	"os"
	"strings"
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

// theEnd is written behind all else: nothing that is tested writes it.
const theEnd = 0

// Shown is what is written to the user's side of a terminal. It is read until a mark
// behind it, for what is on its way when that side is closed may be lost.
func Shown(t *testing.T, write func(user *os.File)) string {
	t.Helper()
	screen, user := Open(t)
	defer user.Close()
	read := make(chan string)
	go func() {
		text, _ := bufio.NewReader(screen).ReadString(theEnd) // without it where the terminal is gone
		read <- text
	}()
	write(user)
	if _, err := user.Write([]byte{theEnd}); err != nil {
		t.Fatal(err)
	}
	text, whole := strings.CutSuffix(<-read, string(rune(theEnd)))
	if !whole {
		t.Errorf("the terminal was gone after %q", text)
	}
	return text
}
