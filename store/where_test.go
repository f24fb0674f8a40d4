package store

import "testing"

func TestWhere(t *testing.T) {
	for path, want := range map[string]string{
		"people": "people", "arrays/front/tilt": "array front, tilt", "appliances/kettle/power": "kettle, power", "appliances/kettle": "kettle",
		"inverters/inverter/power": "inverter, power", "controllers/controller 1/output": "controller 1, output", "trip/2/nights": "stop 2, nights",
		"shore/chargers/converter/output": "shore, charger converter, output", "wiring/runs/main/devices/main fuse/rating": "wiring, run main, device main fuse, rating",
		"bank/block/capacity": "bank, block, capacity", "arrays": "arrays", "": "",
	} {
		if got := Where(path); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
}
