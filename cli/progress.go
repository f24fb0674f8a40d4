package cli

import (
	"fmt"
	"strings"
)

// progress counts on a terminal and is silent anywhere else.
type progress struct {
	env   Env
	shown bool
}

func newProgress(env Env) *progress { return &progress{env: env} }

func (p *progress) show(done, total int) {
	if p.env.Terminal {
		p.shown = true
		fmt.Fprintf(p.env.Stderr, "\r%d of %d runs", done, total)
	}
}

// clear wipes the count off the terminal.
func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.env.Stderr, "\r"+strings.Repeat(" ", 30)+"\r")
	}
}
