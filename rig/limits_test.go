package rig

import (
	"testing"

	"campwright/internal/near"
	"campwright/quantity"
)

// TestLimitsOf reads limits back that stand in the document's tags, in base units.
func TestLimitsOf(t *testing.T) {
	low, high, limited := LimitsOf("bank/health", quantity.Share)
	if !limited {
		t.Fatal("health has no limits")
	}
	near.Abs(t, "least health", low, 0.10, 1e-12, "as the tag says")
	near.Abs(t, "most health", high, 1.10, 1e-12, "as the tag says")
	if _, _, limited := LimitsOf("bank/health", quantity.Voltage); limited {
		t.Error("health has limits in volts")
	}
	if _, _, limited := LimitsOf("bank/no such key", quantity.Share); limited {
		t.Error("a key that is not there has limits")
	}
}
