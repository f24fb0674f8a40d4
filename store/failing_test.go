package store

import (
	"errors"
	"io/fs"
	"testing"
	"time"

	"campwright/rig"
)

var errDisk = errors.New("the disk fails here")

// failing is a disk whose nth step fails: halfway through where it writes, and, once it has failed, at every later step too when dead.
type failing struct {
	osDisk
	steps *int
	at    int
	dead  bool
}

func (f failing) fails() bool {
	*f.steps++
	return *f.steps == f.at || f.dead && *f.steps > f.at && f.at > 0
}

func (f failing) read(path string) ([]byte, fs.FileMode, time.Time, error) {
	if f.fails() {
		return nil, 0, time.Time{}, errDisk
	}
	return f.osDisk.read(path)
}

func (f failing) size(path string) (int64, error) {
	if f.fails() {
		return 0, errDisk
	}
	return f.osDisk.size(path)
}

func (f failing) write(path string, data []byte, mode fs.FileMode) error {
	if f.fails() {
		return errors.Join(errDisk, f.osDisk.write(path, data[:len(data)/2], mode))
	}
	return f.osDisk.write(path, data, mode)
}

func (f failing) add(path string, data []byte, mode fs.FileMode) error {
	if f.fails() {
		return errors.Join(errDisk, f.osDisk.add(path, data[:len(data)/2], mode))
	}
	return f.osDisk.add(path, data, mode)
}

func (f failing) cut(path string, size int64) error {
	if f.fails() {
		return errDisk
	}
	return f.osDisk.cut(path, size)
}

func (f failing) rename(from, to string) error {
	if f.fails() {
		return errDisk
	}
	return f.osDisk.rename(from, to)
}

func (f failing) remove(path string) error {
	if f.fails() {
		return errDisk
	}
	return f.osDisk.remove(path)
}

// TestNthStepFails lets the first step of the disk fail, then the second, until nothing fails any more; once alone, once with every later
// step failing too. Each time the rig read back is the old one or the new, never another; a change that was told to be done is there;
// and the rig can be changed and undone again.
func TestNthStepFails(t *testing.T) {
	for _, dead := range []bool{false, true} {
		tried, done := 0, false
		for n := 1; !done; n++ {
			path := sampleFile(t)
			edit(t, opened(t, path), "people", "2", "3") // so that there is a journal
			old := onDisk(t, path)
			steps := 0
			var after State
			s, err := open(path, clock, failing{steps: &steps, at: n, dead: dead})
			if err == nil {
				after, err = s.Edit(hashOf([]byte(old)), []rig.Edit{{Path: "name", Old: "Tern", New: "Gull"}}, "")
			}
			done = steps < n
			tried++
			if done && err != nil {
				t.Fatalf("step %d: nothing failed and yet: %v", n, err)
			}
			if err != nil && !errors.Is(err, errDisk) {
				t.Errorf("step %d: %v", n, err)
			}

			healed := opened(t, path)
			st := state(t, healed)
			fresh := replaced(old, "Tern", "Gull")
			switch {
			case err == nil && string(st.Text) != string(after.Text):
				t.Errorf("dead %v, step %d: told to be done, and the rig read back is\n%s", dead, n, st.Text)
			case string(st.Text) != old && string(st.Text) != fresh:
				t.Errorf("dead %v, step %d: neither the old rig nor the new:\n%s", dead, n, st.Text)
			}
			if got := onDisk(t, path); got != string(st.Text) {
				t.Errorf("dead %v, step %d: the file is not what is read", dead, n)
			}
			if want := map[bool]string{true: "people: 2 to 3", false: "name: Tern to Gull"}[string(st.Text) == old]; !dead && st.Undo != want {
				t.Errorf("step %d: undo would take back %q, want %q", n, st.Undo, want)
			}
			before := string(st.Text)
			edit(t, healed, "appliances/fan/power", "14 W", "20 W")
			if st, err = healed.Undo(state(t, healed).Revision); err != nil || string(st.Text) != before {
				t.Errorf("dead %v, step %d: undo afterwards: %v", dead, n, err)
			}
			if names := files(t, path); names != "tern.yaml tern.yaml.journal" {
				t.Errorf("dead %v, step %d: files left: %s", dead, n, names)
			}
		}
		if tried < 8 {
			t.Fatalf("only %d steps were tried", tried)
		}
	}
}
