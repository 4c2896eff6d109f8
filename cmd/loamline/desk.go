package main

import (
	"fmt"
	"io"
	"net/http"
	"os/exec"
	"runtime"
	"strings"
	"time"
)

// Who starts the program from a file manager sees no terminal, and no help in one:
// the page opens in the browser, and says how to stop it.

// argsOf are the arguments to run by: those given, or those of a start without any
// from a file manager.
func argsOf(args []string, fromDesk bool) []string {
	if len(args) == 1 && fromDesk {
		return []string{args[0], "serve", "--open"}
	}
	return args
}

// openBrowser shows an address in the browser that the person chose.
func openBrowser(url string) error {
	var cmd *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		cmd = exec.Command("rundll32", "url.dll,FileProtocolHandler", url)
	case "darwin":
		cmd = exec.Command("open", url)
	default:
		cmd = exec.Command("xdg-open", url)
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("no browser could be opened: %w: open %s yourself", err, url)
	}
	go func() { _ = cmd.Wait() }() // the browser's own fate is not ours
	return nil
}

// answersAlready reports whether the page answers at an address: the program was
// started before.
func answersAlready(url string) bool {
	client := http.Client{Timeout: 2 * time.Second}
	resp, err := client.Get(url + "api/openapi.yaml")
	if err != nil {
		return false
	}
	defer resp.Body.Close()
	head, _ := io.ReadAll(io.LimitReader(resp.Body, 4<<10))
	return resp.StatusCode == http.StatusOK && strings.Contains(string(head), "loamline")
}
