package store

import (
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// TestDamagedJournal lets anything stand in the journal: the rig opens all the same, and what still reads stays.
func TestDamagedJournal(t *testing.T) {
	path := sampleFile(t)
	s := opened(t, path)
	edit(t, s, "people", "2", "3")
	edit(t, s, "people", "3", "4")
	good := onDisk(t, path+".journal")
	seed := uint64(1)
	r := rand.New(rand.NewPCG(seed, 0))
	for trial := range 300 {
		bad := []byte(good)
		switch trial % 3 {
		case 0:
			bad = bad[:r.IntN(len(bad))]
		case 1:
			bad[r.IntN(len(bad))] ^= byte(1 + r.IntN(255))
		case 2:
			at := r.IntN(len(bad))
			bad = append(bad[:at:at], append([]byte("\x00garbage\n"), bad[at:]...)...)
		}
		if err := os.WriteFile(path+".journal", bad, 0o640); err != nil {
			t.Fatal(err)
		}
		before := onDisk(t, path)
		s, err := Open(path, clock)
		if err != nil {
			t.Fatalf("seed %d, trial %d: %v", seed, trial, err)
		}
		st := state(t, s)
		if string(st.Text) != before {
			t.Fatalf("seed %d, trial %d: the rig is not what stands in its file", seed, trial)
		}
		edited := edit(t, s, "name", "Tern", "Gull")
		again := opened(t, path)
		if st, err = again.Undo(state(t, again).Revision); err != nil || string(st.Text) != before {
			t.Fatalf("seed %d, trial %d: undo after a damaged journal: %v", seed, trial, err)
		}
		if _, err := again.Text(edited.Revision); err != nil {
			t.Fatalf("seed %d, trial %d: %v", seed, trial, err)
		}
	}
}

func FuzzSplice(f *testing.F) {
	for _, pair := range [][2]string{{"", ""}, {"abc", "abd"}, {"über", "uber"}, {"aaa", "aa"}, {"°C", "°F"}, {"−1", "−2"}, {sample, strings.Replace(sample, "14 W", "15 W", 1)}} {
		f.Add(pair[0], pair[1])
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		if !editable([]byte(a)) || !editable([]byte(b)) {
			return
		}
		s := spliceOf([]byte(a), []byte(b))
		if !editable([]byte(s.Cut)) || !editable([]byte(s.Put)) {
			t.Fatalf("%q to %q cuts a character: %+v", a, b, s)
		}
		there, err := s.apply([]byte(a))
		if err != nil || string(there) != b {
			t.Fatalf("%q to %q gives %q: %v", a, b, there, err)
		}
		back, err := s.back().apply(there)
		if err != nil || string(back) != a {
			t.Fatalf("%q back from %q gives %q: %v", a, b, back, err)
		}
	})
}
