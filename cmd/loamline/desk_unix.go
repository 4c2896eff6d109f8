//go:build !windows

package main

import "os"

// fromDesk tells a start from a file manager: there is a screen, nothing comes in, and
// what goes out goes to no terminal, file or pipe. What a file manager of macOS starts
// runs in a terminal, and is not told from what was typed there.
func fromDesk() bool {
	if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return false
	}
	in, err := os.Stdin.Stat()
	if err != nil {
		return false
	}
	out, err := os.Stdout.Stat()
	if err != nil {
		return false
	}
	null, err := os.Stat(os.DevNull)
	if err != nil {
		return false
	}
	journal := out.Mode()&os.ModeSocket != 0
	return os.SameFile(in, null) && (journal || os.SameFile(out, null))
}
