package web

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"campwright/store"
)

// ServeOptions are the choices of a person who starts the page.
type ServeOptions struct {
	RigPath string     // the rig's file
	Demo    []byte     // shown when RigPath is empty
	Demos   []Demo     // all demos that can be opened; none takes Demo alone
	Port    int        // 0 for any free one
	Lan     bool       // answer the local network too, to whoever holds the link with the token
	NoOpen  bool       // do not open a browser
	Weather []string   // weather files that the page may choose
	Trip    TripAnswer // answers "Will it last?" where no year of weather is asked for; nil answers out of the climate of the places
	Out     io.Writer  // where the address is printed
	Version string
}

// Serve serves the page until the context ends, then lets requests that are under way finish.
func Serve(ctx context.Context, o ServeOptions) error {
	if o.Out == nil {
		o.Out = io.Discard
	}
	first, err := opened(o)
	if err != nil {
		return err
	}
	host := "127.0.0.1"
	if o.Lan {
		host = ""
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(o.Port)))
	if err != nil {
		return fmt.Errorf("the page cannot be served on port %d: %w", o.Port, err)
	}
	defer listener.Close() // closed a second time after a proper end, which does no harm
	_, port, err := net.SplitHostPort(listener.Addr().String())
	if err != nil {
		return err
	}
	options := Options{
		Rig: first, Trip: o.Trip, Weather: weatherFiles(o.Weather), Now: time.Now, Version: o.Version,
		Log:   slog.New(slog.NewTextHandler(os.Stderr, nil)),
		Hosts: loopbackHosts(port), Demos: o.Demos, Folder: startedAt(o.RigPath), Recent: store.RecentIn(settings()),
	}
	if len(options.Demos) == 0 && len(o.Demo) > 0 {
		options.Demos = []Demo{{Key: "demo rig", Text: o.Demo}}
	}
	links := []string{"http://127.0.0.1:" + port + "/"}
	if o.Lan {
		options.Token = rand.Text()
		links = nil
		for _, a := range ownAddresses() {
			options.Hosts = append(options.Hosts, net.JoinHostPort(a, port))
			links = append(links, "http://"+net.JoinHostPort(a, port)+"/?token="+options.Token)
		}
		options.Links = append([]string(nil), links...)
		links = append(links, "http://127.0.0.1:"+port+"/?token="+options.Token)
	}
	server, err := New(options)
	if err != nil {
		return err
	}
	for _, link := range links {
		fmt.Fprintln(o.Out, "The page is at", link)
	}
	if len(options.Links) > 0 {
		if c, err := qrCode(options.Links[0]); err == nil {
			fmt.Fprintf(o.Out, "\n%s\nWhoever has this link can read and change the rig while the program runs. What goes over the network can be read along.\n", c.text())
		}
	}
	if !o.NoOpen {
		openBrowser(ctx, o.Out, links[len(links)-1])
	}
	return run(ctx, listener, server)
}

// run answers until the context ends.
func run(ctx context.Context, listener net.Listener, handler http.Handler) error {
	h := &http.Server{
		Handler: handler, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 30 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 3*time.Second)
	defer cancel()
	if err := h.Shutdown(grace); err != nil {
		return h.Close()
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// opened opens the rig that the page starts on.
func opened(o ServeOptions) (*store.Store, error) {
	if o.RigPath == "" {
		return store.Scratch("demo rig", o.Demo, time.Now), nil
	}
	if err := store.RecentIn(settings()).Add(o.RigPath); err != nil && o.Out != nil {
		fmt.Fprintln(o.Out, "Note:", err)
	}
	return store.Open(o.RigPath, time.Now)
}

func weatherFiles(paths []string) []WeatherFile {
	list := make([]WeatherFile, len(paths))
	for i, p := range paths {
		list[i] = WeatherFile{Name: filepath.Base(p), Path: p}
	}
	return list
}

func loopbackHosts(port string) []string {
	return []string{"127.0.0.1:" + port, "localhost:" + port, "[::1]:" + port}
}

// ownAddresses returns the addresses under which the local network reaches this machine.
func ownAddresses() []string {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil // the loopback link is printed all the same
	}
	var list []string
	for _, a := range all {
		n, ok := a.(*net.IPNet)
		if ok && !n.IP.IsLoopback() && !n.IP.IsLinkLocalUnicast() && (n.IP.IsPrivate() || n.IP.To4() != nil) {
			list = append(list, n.IP.String())
		}
	}
	return list
}

// openBrowser opens the page in the user's browser. Where that fails the printed address is enough.
func openBrowser(ctx context.Context, out io.Writer, link string) {
	name, args := "xdg-open", []string{link}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", link}
	}
	command := exec.CommandContext(ctx, name, args...)
	if err := command.Start(); err != nil {
		fmt.Fprintln(out, "No browser could be opened; open the address yourself.")
		return
	}
	go func() { _ = command.Wait() }() // the browser's own end is its own business
}
