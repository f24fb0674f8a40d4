// Command campwright answers for the electrics, propane and water of a recreational vehicle.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"campwright/cli"
	"campwright/examples"
	"campwright/rig"
	"campwright/trip"
	"campwright/web"

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

// serve opens the page, whose answers come from the climate of any place; one teller keeps what a change leaves alone.
func serve(ctx context.Context, ask cli.ServeAsk) error {
	teller := trip.NewTeller(trip.Options{})
	return web.Serve(ctx, web.ServeOptions{
		RigPath: ask.Rig, Demo: examples.Demo, Port: ask.Port, Lan: ask.Lan, NoOpen: ask.NoOpen, Out: os.Stdout, Version: version,
		Demos: []web.Demo{
			{Key: "desert-trailer", Text: examples.Demo}, {Key: "coastal-camper", Text: examples.CoastalCamper},
			{Key: "fifth-wheel", Text: examples.FifthWheel}, {Key: "northern-van", Text: examples.NorthernVan},
		},
		Trip: func(ctx context.Context, full rig.Rig, _ web.TripAsk) (trip.Answer, error) {
			return teller.Answer(ctx, &full)
		},
	})
}
