package store

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"campwright/rig"
)

// Recorded on 2 shared cores, Go 1.26, go test ./store -bench . -benchtime 200x:
//
//	BenchmarkEdit-2                  2.6 ms   1.44 MB   22322 allocs
//	BenchmarkOpen/changes=10-2      0.06 ms   0.03 MB     225 allocs
//	BenchmarkOpen/changes=1000-2    3.35 ms   1.91 MB   16091 allocs
func BenchmarkEdit(b *testing.B) {
	text, err := os.ReadFile(filepath.Join("..", "examples", "desert-trailer.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "rig.yaml")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		b.Fatal(err)
	}
	s, err := Open(path, clock)
	if err != nil {
		b.Fatal(err)
	}
	st, err := s.State()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	people := 2
	for b.Loop() {
		next := 3 - people%2
		if st, err = s.Edit(st.Revision, []rig.Edit{{Path: "people", Old: fmt.Sprint(people), New: fmt.Sprint(next)}}, ""); err != nil {
			b.Fatal(err)
		}
		people = next
	}
}

func BenchmarkOpen(b *testing.B) {
	for _, changes := range []int{10, 1000} {
		b.Run(fmt.Sprintf("changes=%d", changes), func(b *testing.B) {
			path := filepath.Join(b.TempDir(), "tern.yaml")
			if err := os.WriteFile(path, []byte(sample), 0o644); err != nil {
				b.Fatal(err)
			}
			s, err := Open(path, clock)
			if err != nil {
				b.Fatal(err)
			}
			st, err := s.State()
			if err != nil {
				b.Fatal(err)
			}
			for i := range changes {
				if st, err = s.Edit(st.Revision, []rig.Edit{{Path: "people", Old: fmt.Sprint(2 + i%2), New: fmt.Sprint(3 - i%2)}}, ""); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Open(path, clock); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
