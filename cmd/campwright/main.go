// Command campwright answers for the electrics, propane and water of a recreational vehicle.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"campwright/cli"

	_ "time/tzdata" // zones of places, on machines that lack them

	"golang.org/x/term"
)

// version is set when a release is built.
var version = "development"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := cli.Run(ctx, os.Args[1:], cli.Env{
		Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
		Asks: term.IsTerminal(int(os.Stdin.Fd())), Terminal: term.IsTerminal(int(os.Stderr.Fd())), Version: version, Serve: serve,
	})
	stop()
	os.Exit(code)
}

func serve(context.Context, cli.ServeAsk) error { return nil }
