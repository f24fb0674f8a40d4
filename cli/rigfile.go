package cli

import (
	"fmt"
	"os"

	"campwright/rig"
)

// loadRig reads a rig file and reports every fault in it at once.
func loadRig(path string) (rig.Rig, error) {
	f, err := os.Open(path)
	if err != nil {
		return rig.Rig{}, err
	}
	defer f.Close()
	doc, faults := rig.Decode(f)
	if err := faults.Err(); err != nil {
		return rig.Rig{}, hinted{fmt.Errorf("%s is not in order:\n%w", path, err), "nothing was changed; mend the lines named and run again"}
	}
	return doc, nil
}
