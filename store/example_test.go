package store_test

import (
	"fmt"
	"time"

	"campwright/rig"
	"campwright/store"
)

// A change is made for a revision, and can be taken back.
func ExampleStore_Edit() {
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }
	s := store.Scratch("tern.yaml", []byte("campwright: 1\nname: Tern # and so on\nkind: van\n"), now)
	st, err := s.State()
	if err != nil {
		fmt.Println(err)
		return
	}
	st, err = s.Edit(st.Revision, []rig.Edit{{Path: "name", Old: "Tern", New: "Gull"}}, "")
	fmt.Printf("%s%v\n", st.Text, err)
	st, err = s.Undo(st.Revision)
	fmt.Println(st.Redo, err)
	// Output:
	// campwright: 1
	// name: Gull # and so on
	// kind: van
	// <nil>
	// name: Tern to Gull <nil>
}
