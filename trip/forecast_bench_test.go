package trip

import (
	"context"
	"testing"
	"time"

	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// stayCase is the full rig on 30 nights in a desert winter.
func stayCase(tb testing.TB) (Plan, rig.Rig) {
	tb.Helper()
	doc, gaps := system.Complete(fullRig())
	if len(gaps) > 0 {
		tb.Fatal(gaps)
	}
	zone, err := time.LoadLocation("America/Phoenix")
	if err != nil {
		tb.Fatal(err)
	}
	site := Site{Name: "desert", Place: sun.Place{Latitude: 33.5, Longitude: -114.2, Elevation: 300}, Zone: zone, Sky: "open", Nights: 30}
	return Plan{Rig: doc, Sites: []Site{site}, First: time.Date(2027, 1, 5, 0, 0, 0, 0, time.UTC)}, doc
}

// BenchmarkForecast answers 200 members x 30 nights at 5 minutes for the full rig: from nothing, with the place's geometry known, and for one
// changed appliance.
func BenchmarkForecast(b *testing.B) {
	plan, doc := stayCase(b)
	ctx := context.Background()
	b.Run("cold", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f, err := NewForecast(plan, Options{})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := f.Answer(ctx, &doc, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	f, err := NewForecast(plan, Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("place known", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f.kept.key = ""
			if _, err := f.Answer(ctx, &doc, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("one appliance changed", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			doc.Appliances[0].Power.Rate.Quantity.Base += 0.01
			if _, err := f.Answer(ctx, &doc, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}
