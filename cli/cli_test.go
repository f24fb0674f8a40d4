package cli_test

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"campwright/cli"

	_ "time/tzdata" // zones of places, as the program itself carries them

	"github.com/rogpeppe/go-internal/testscript"
	"golang.org/x/term"
)

// The scripts in testdata run the program as people do: each in a folder of its own, with the demo rigs in its subfolder examples, and
// campwright itself on the path. A file is named for the command it is about and its theme: trip_errors.txt. Beside testscript's own
// commands there is one:
//
//	exits STATUS args...      runs campwright with the arguments and demands the exit status; stdout and stderr can be looked at after
//
// go test ./cli -run Scripts/new -update rewrites the files that cmp compares.
// update says that goldens are to be rewritten: the files in the scripts that cmp finds different, and those beside them.
var update = cli.UpdateGolden

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"campwright": func() {
		os.Exit(cli.Run(context.Background(), os.Args[1:], cli.Env{
			Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
			Asks: term.IsTerminal(int(os.Stdin.Fd())), Terminal: term.IsTerminal(int(os.Stderr.Fd())),
			Version: "in test",
			Serve: func(context.Context, cli.ServeAsk) error {
				return errors.New("the page is not part of these scripts")
			},
		}))
	}})
}

func TestScripts(t *testing.T) {
	scripts, err := filepath.Glob(filepath.Join("testdata", "*.txt"))
	if err != nil || len(scripts) == 0 {
		t.Fatalf("no scripts in testdata: %v", err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                "testdata",
		UpdateScripts:      *update,
		RequireUniqueNames: true,
		Setup:              func(env *testscript.Env) error { return copyExamples(filepath.Join(env.WorkDir, "examples")) },
		Cmds:               map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits runs the program and demands an exit status.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: exits STATUS args...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var status *exec.ExitError
	if err := ts.Exec("campwright", args[1:]...); errors.As(err, &status) {
		got = status.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// copyExamples puts the demo rigs into a folder.
func copyExamples(dir string) error {
	rigs, err := filepath.Glob(filepath.Join("..", "examples", "*.yaml"))
	if err != nil {
		return err
	}
	if len(rigs) == 0 {
		return errors.New("no demo rigs found")
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		return err
	}
	for _, path := range rigs {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(path)), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}
