package catalogue

import "testing"

// TestStart holds the starts of motors to what the practice list tells of an air conditioner: 50 A at 120 V, 6,000 W, and 24 A with a soft starter.
func TestStart(t *testing.T) {
	for _, name := range []string{"air conditioner", "roof air", "kühlung"} {
		s, ok := Start(name, "air conditioner", 0)
		if !ok || s.Low > 24*120 || s.High < 50*120 {
			t.Errorf("%s: start %v to %v W, wanted 2880 and 6000 W within", name, s.Low, s.High)
		}
	}
	double, _ := Start("air conditioner", "air conditioner", 2*CoolerPower.Value)
	if single, _ := Start("air conditioner", "air conditioner", CoolerPower.Value); double.Value != 2*single.Value || single.Value == 0 {
		t.Errorf("twice the motor starts with %v W, the single with %v W", double.Value, single.Value)
	}
	for _, name := range []string{"toaster", "laptop", "no such thing"} {
		if s, ok := Start(name, "plain", 0); ok {
			t.Errorf("%s: start %v W, wanted none", name, s.Value)
		}
	}
}
