package trip

import "testing"

// TestGuards: what warns of gas, smoke or fire, or keeps somebody alive, is never proposed to be switched off, however it is called; names that only hold its
// letters are no guards. Names as owners write them; common practice, no source.
func TestGuards(t *testing.T) {
	for name, want := range map[string]bool{
		"LP detector": true, "carbon monoxide sensor": true, "LP gas sensor": true, "Monoxide": true, "lp": true, "LP/CO": true, "propane sensor": true, "smoke": true, "CPAP": true,
		"alpine radio": false, "help lamp": false, "coffee maker": false, "cooktop fan": false, "water pump": false, "laptop": false,
	} {
		if got := guards(name); got != want {
			t.Errorf("%q: %v, wanted %v", name, got, want)
		}
	}
}
