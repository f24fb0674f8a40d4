package check

import (
	"fmt"
	"sync"

	"campwright/rig"
	"campwright/system"
)

// mostPlaces is how many places a remembering lookup keeps; past it, it forgets them all and begins again.
const mostPlaces = 256

// Remember returns a lookup that asks another once for each place and height, and keeps what it finds. A climate takes some milliseconds,
// and a rig is judged again at every change. It is safe to use from any goroutine.
func Remember(find system.Lookup) system.Lookup {
	type key struct {
		name                string
		latitude, longitude float64
		spot                bool
		height              string
	}
	var mu sync.Mutex
	known := map[key]system.Spot{}
	return func(p rig.Place, elevationM *float64) (system.Spot, error) {
		k := key{p.Name, p.Latitude, p.Longitude, p.HasSpot, ""}
		if elevationM != nil {
			k.height = fmt.Sprint(*elevationM)
		}
		mu.Lock()
		s, ok := known[k]
		mu.Unlock()
		if ok {
			return s, nil
		}
		s, err := find(p, elevationM)
		if err != nil {
			return s, err
		}
		mu.Lock()
		defer mu.Unlock()
		if len(known) >= mostPlaces {
			clear(known)
		}
		known[k] = s
		return s, nil
	}
}
