package main

import (
	"syscall"
	"unsafe"
)

// fromDesk tells a start from a file manager: the console was made for this program
// alone. One that was typed into has the shell in it too.
func fromDesk() bool {
	var ids [2]uint32
	n, _, _ := syscall.NewLazyDLL("kernel32.dll").NewProc("GetConsoleProcessList").Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}
