package weather

import (
	"fmt"
	"testing"

	"campwright/internal/near"
)

// The annual sum and the mean temperature are those the independent reference gives for its invented year (chain_invented.json).
func TestInventedAgainstReference(t *testing.T) {
	y := Invented()
	if len(y.Records) != 8760 {
		t.Fatalf("%d records, want 8760", len(y.Records))
	}
	ghi, air := 0.0, 0.0
	for _, r := range y.Records {
		ghi += r.GHI * r.DurationH / 1000
		air += r.AirC
	}
	near.Printed(t, "annual GHI", ghi, 1774.2975, 4, "chain_invented.json")
	near.Printed(t, "mean air temperature", air/8760, 8.50005707762557, 12, "chain_invented.json")
}

func ExampleInvented() {
	y := Invented()
	c, err := y.Columns(10)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(y.Site.Name, len(y.Records), "records of", y.Step)
	fmt.Println(c.Steps(), "steps of", c.StepMin, "min from", c.Start.Format("2006-01-02 15:04 -07"))
	// Output:
	// invented high plateau 8760 records of 1h0m0s
	// 52560 steps of 10 min from 2019-01-01 00:00 -07
}
