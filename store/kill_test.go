package store

import (
	"bufio"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"campwright/rig"
)

// editForever is the variable that turns this test program into one that edits a rig until it is killed.
const editForever = "CAMPWRIGHT_TEST_EDIT"

func TestMain(m *testing.M) {
	if path := os.Getenv(editForever); path != "" {
		edits(path)
	}
	os.Exit(m.Run())
}

// edits counts the fan's power up, one watt a change, and says each number once it was told to be done.
func edits(path string) {
	s, err := Open(path, time.Now)
	if err != nil {
		fmt.Println("error:", err)
		os.Exit(1)
	}
	for {
		st, err := s.State()
		if err == nil {
			var now int
			if now, err = wattsIn(st.Text); err == nil {
				_, err = s.Edit(st.Revision, []rig.Edit{{Path: "appliances/fan/power", Old: fmt.Sprintf("%d W", now), New: fmt.Sprintf("%d W", now+1)}}, "")
				if err == nil {
					fmt.Println(now + 1)
				}
			}
		}
		if err != nil {
			fmt.Println("error:", err)
			os.Exit(1)
		}
	}
}

func wattsIn(text []byte) (int, error) {
	_, after, _ := strings.Cut(string(text), "power: ")
	number, _, _ := strings.Cut(after, " W")
	return strconv.Atoi(number)
}

func replaced(text, old, new string) string { return strings.Replace(text, old, new, 1) }

// TestKilledAtAnyMoment kills a program that is editing, 200 times at random moments. What was told to be done is never lost; at most
// the one change in flight is there or not; and undo still leads all the way back.
func TestKilledAtAnyMoment(t *testing.T) {
	path := sampleFile(t)
	seed := uint64(time.Now().UnixNano())
	r := rand.New(rand.NewPCG(seed, 0))
	kills := 200
	if testing.Short() {
		kills = 20
	}
	told := 14
	for kill := range kills {
		command := exec.Command(os.Args[0])
		command.Env = append(os.Environ(), editForever+"="+path)
		var out bytes.Buffer
		pipe, err := command.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := command.Start(); err != nil {
			t.Fatal(err)
		}
		lines := make(chan string)
		go func() {
			defer close(lines)
			for scan := bufio.NewScanner(pipe); scan.Scan(); {
				lines <- scan.Text()
			}
		}()
		// Every other kill counts from the start of the program, which it may meet while it opens the file; the rest from its first change, so that changes are
		// made on a slow machine too.
		wait := time.Duration(r.IntN(25_000)) * time.Microsecond
		stop := func() { _ = command.Process.Kill() }
		timer := time.AfterFunc(time.Hour, stop)
		set := kill%2 == 0
		if set {
			timer.Reset(wait)
		}
		for line := range lines {
			if !set {
				timer.Reset(wait)
				set = true
			}
			fmt.Fprintln(&out, line)
			n, err := strconv.Atoi(line)
			if err != nil {
				t.Fatalf("seed %d, kill %d: %s", seed, kill, line)
			}
			told = n
		}
		timer.Stop()
		if err := command.Wait(); err == nil {
			t.Fatal("the program ended by itself")
		}
		decoded, faults := rig.Decode(strings.NewReader(onDisk(t, path)))
		if len(faults) > 0 || len(decoded.Appliances) != 1 {
			t.Fatalf("seed %d, kill %d: the file is not whole: %v", seed, kill, faults)
		}
		s, err := Open(path, clock)
		if err != nil {
			t.Fatalf("seed %d, kill %d: %v", seed, kill, err)
		}
		now, err := wattsIn(state(t, s).Text)
		if err != nil || now != told && now != told+1 {
			t.Fatalf("seed %d, kill %d: %d W, told %d W: %v", seed, kill, now, told, err)
		}
		told = now
	}
	t.Logf("%d kills, %d changes made", kills, told-14)
	if told < 20 {
		t.Fatalf("only %d changes were made in %d runs", told-14, kills)
	}
	s := opened(t, path)
	for i := told; i > 14; i-- {
		st, err := s.Undo(state(t, s).Revision)
		if err != nil {
			t.Fatalf("seed %d: undo at %d W: %v", seed, i, err)
		}
		if now, err := wattsIn(st.Text); err != nil || now != i-1 {
			t.Fatalf("seed %d: undo of %d W gives %d W: %v", seed, i, now, err)
		}
	}
	if got := onDisk(t, path); got != sample {
		t.Errorf("undone to\n%s", got)
	}
}
