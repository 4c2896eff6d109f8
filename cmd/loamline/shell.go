package main

import (
	"fmt"
	"io"

	"github.com/urfave/cli/v2"
)

// completionScripts ask the program itself, which answers with what may follow
// (github.com/urfave/cli/v2 calls it bash completion, whichever the shell).
var completionScripts = map[string]string{
	"bash": `_loamline() {
  local cur="${COMP_WORDS[COMP_CWORD]}"
  local words=("${COMP_WORDS[@]:0:COMP_CWORD}")
  if [[ "$cur" == -* ]]; then words+=("$cur"); fi
  COMPREPLY=($(compgen -W "$(SHELL=bash "${words[@]}" --generate-bash-completion 2>/dev/null)" -- "$cur"))
}
complete -o bashdefault -o default -F _loamline loamline
`,
	"zsh": `#compdef loamline
_loamline() {
  local -a found ask
  ask=("${(@)words[1,CURRENT-1]}")
  if [[ "${words[CURRENT]}" == -* ]]; then ask+=("${words[CURRENT]}"); fi
  found=("${(@f)$(SHELL=zsh "${ask[@]}" --generate-bash-completion 2>/dev/null)}")
  if [[ -n "${found[1]}" ]]; then _describe 'values' found; else _files; fi
}
compdef _loamline loamline
`,
}

func completionCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print what makes a shell complete loamline's commands and flags",
		ArgsUsage: "bash|zsh|fish",
		Description: "Load it from the shell's own start-up file." +
			examples("source <(loamline completion bash)", "loamline completion fish >~/.config/fish/completions/loamline.fish"),
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return usagef("completion needs one shell: bash, zsh or fish")
			}
			shell := c.Args().First()
			script, ok := completionScripts[shell]
			if shell == "fish" {
				var err error
				if script, err = c.App.ToFishCompletion(); err != nil {
					return err
				}
				ok = true
			}
			if !ok {
				return usagef("completion %s: there are bash, zsh and fish", shell)
			}
			_, err := io.WriteString(std.out, script)
			return err
		},
	}
}

func manCommand(std streams) *cli.Command {
	return &cli.Command{
		Name:        "man",
		Usage:       "print the manual page",
		Description: "In the roff format of man(1)." + examples("loamline man >loamline.1"),
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return usagef("man takes no argument %q", c.Args().First())
			}
			page, err := c.App.ToManWithSection(1)
			if err != nil {
				return fmt.Errorf("the manual page could not be made: %w", err)
			}
			_, err = io.WriteString(std.out, page)
			return err
		},
	}
}

// examples ends a command's description. The indent is that of a listing, in
// the terminal as in the manual page.
func examples(commands ...string) string {
	s := "\n\nExamples:\n"
	if len(commands) == 1 {
		s = "\n\nExample:\n"
	}
	for _, c := range commands {
		s += "\n    " + c
	}
	return s
}
