// Package cli is the terminal: it reads what the user typed, calls the packages that know, and prints. It does no arithmetic.
//
// Rules of the terminal: answers go to standard output; prompts, progress and errors go to standard error under the program's name,
// without a capital or a full stop, a hint after the error. Exit status 0 is fine, 1 means the rig has findings, 2 that the call was
// wrong or the work was not done. Nothing is coloured, so that what is printed can be mailed.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"campwright/climate"
	"campwright/figure"
	"campwright/place"

	"github.com/alecthomas/kong"
)

// Exit statuses.
const (
	Fine     = 0
	Findings = 1
	Wrong    = 2
)

// Env is what the terminal needs from outside.
type Env struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Asks           bool                                  // whether standard input is a terminal, so that questions can be asked
	Terminal       bool                                  // whether standard error is a terminal, for progress
	Version        string                                // of the program
	Serve          func(context.Context, ServeAsk) error // opens the page
}

// ServeAsk is what the page is opened with.
type ServeAsk struct {
	Rig    string // file; empty for the demo
	Port   int    // 0 for any free one
	NoOpen bool   // do not open a browser
	Lan    bool   // answer the local network too, with a token
}

// commands is the whole command line.
type commands struct {
	Serve   serveCmd   `cmd:"" default:"withargs" help:"Open the page on a rig. The same as no command at all."`
	New     newCmd     `cmd:"" help:"Make a first rig file out of six answers."`
	Show    showCmd    `cmd:"" help:"What is aboard? Print a rig as understood, with every default marked."`
	Trip    tripCmd    `cmd:"" help:"Will it last? How long each store lasts, and what ends the stay."`
	Wire    wireCmd    `cmd:"" help:"How is it wired? Every cable, fuse and switch in every state, with what is proposed for what is missing."`
	Check   checkCmd   `cmd:"" help:"Is it safe? Every rule with its verdict, margin, figures, source and ways out."`
	Schema  schemaCmd  `cmd:"" help:"Print the JSON Schema of the rig file, for an editor."`
	Explain explainCmd `cmd:"" help:"Explain a rule, a term, or a common rule of thumb, and where that holds for a rig."`
	Version versionCmd `cmd:"" help:"Print the version and the credits of the data inside."`
}

const description = `Campwright answers for the electrics, propane and water of a recreational vehicle, from one file that describes the rig.

Commands stand in the order of the questions. Start with: campwright trip examples/desert-trailer.yaml`

// hinted is an error with a hint on what to do about it.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// found means that the work was done and the rig has findings.
var errFindings = errors.New("the rig has findings")

// Run carries out one command line and returns the exit status.
func Run(ctx context.Context, args []string, env Env) int {
	env.Stdout, env.Stderr = &plain{w: env.Stdout}, &plain{w: env.Stderr}
	var c commands
	exit := -1
	parser, err := kong.New(&c, kong.Name("campwright"), kong.Description(description), kong.Writers(env.Stdout, env.Stderr),
		kong.Exit(func(code int) { exit = code }), kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(env))
	if err != nil {
		return complain(env, err)
	}
	if err := meant(args, parser.Model); err != nil {
		return complain(env, err)
	}
	parsed, err := parser.Parse(args)
	if exit >= 0 { // help was asked for and has been printed
		return exit
	}
	if err != nil {
		return complain(env, hinted{err, "campwright --help lists the commands"})
	}
	if err := parsed.Run(); err != nil {
		if errors.Is(err, errFindings) {
			return Findings
		}
		if errors.Is(err, context.Canceled) {
			return complain(env, errors.New("stopped before the answer was there"))
		}
		return complain(env, err)
	}
	return Fine
}

// meant refuses a first word that is neither a command nor a file: without this it would be taken for the file of the page.
func meant(args []string, model *kong.Application) error {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return nil
	}
	var names []string
	for _, c := range model.Children {
		if c.Name == args[0] {
			return nil
		}
		names = append(names, c.Name)
	}
	if _, err := os.Stat(args[0]); err == nil {
		return nil
	}
	return hinted{fmt.Errorf("there is no command and no file %q", args[0]), "the commands are " + figure.List(names)}
}

// complain prints an error with its hint.
func complain(env Env, err error) int {
	for i, line := range strings.Split(err.Error(), "\n") {
		if i == 0 {
			fmt.Fprintf(env.Stderr, "campwright: error: %s\n", line)
			continue
		}
		fmt.Fprintf(env.Stderr, "  %s\n", line)
	}
	var h hinted
	if errors.As(err, &h) && h.hint != "" {
		fmt.Fprintf(env.Stderr, "campwright: hint: %s\n", h.hint)
	}
	return Wrong
}

type versionCmd struct{}

func (versionCmd) Run(env Env) error {
	_, err := fmt.Fprintf(env.Stdout, "campwright %s\n\n%s\n\n%s\n", env.Version, climate.Attribution(), place.Attribution())
	return err
}

type serveCmd struct {
	Rig    string `arg:"" optional:"" type:"existingfile" help:"Rig file; without one, a demo rig."`
	Port   int    `help:"Port on this machine; any free one when left out." default:"0"`
	NoOpen bool   `help:"Print the address and do not open a browser."`
	Lan    bool   `help:"Answer the local network too, to whoever has the link with the token."`
}

func (s serveCmd) Run(ctx context.Context, env Env) error {
	return env.Serve(ctx, ServeAsk(s))
}
