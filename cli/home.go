package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"text/tabwriter"
	"time"

	"campwright/quantity"
	"campwright/rig"
	"campwright/trip"
)

// home answers for the rig at home.
func (t tripCmd) home(ctx context.Context, env Env, full rig.Rig) error {
	a, err := trip.Home(ctx, &full, trip.Options{Seed: t.Seed}, time.Now().Year())
	if err != nil {
		return err
	}
	if t.JSON {
		e := json.NewEncoder(env.Stdout)
		e.SetIndent("", "  ")
		return e.Encode(a)
	}
	units := full.Units()
	a = a.In(units)
	w := env.Stdout
	fmt.Fprintf(w, "%s at home, %s: will it last?\n\n  %s\n\n", a.Rig, a.Place, a.Sentence)
	tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tab, "MONTH\tBATTERY LASTS\tLOWEST\tIN Wh/d\tUSED Wh/d\tFROM POST Wh/d\tPROPANE A DAY\tCOLDEST\tDAYS TOO COLD TO CHARGE")
	for _, m := range a.Months {
		lasts := "-"
		for _, s := range m.Stores {
			if s.Store == "battery" {
				lasts = s.Text
			}
		}
		fmt.Fprintf(tab, "%s\t%s\t%.0f %%\t%.0f\t%.0f\t%.0f\t%s\t%s\t%d\n", m.Month, lasts, 100*m.LowSoC, m.InWh, m.UseWh, m.PostWh,
			quantity.Format(quantity.Quantity{Base: m.GasKg, Kind: quantity.Mass}, units), degrees(m.AirLowC, units)+degreeSign(units), m.ColdDays)
	}
	fmt.Fprintln(tab, "\nWHAT DRAWS\tWh/d")
	for _, e := range a.Drains {
		fmt.Fprintf(tab, "%s\t%.1f\n", e.Name, e.PerDay)
	}
	if err := tab.Flush(); err != nil {
		return err
	}
	for _, r := range a.Remarks {
		fmt.Fprintf(w, "Note: %s\n", r)
	}
	_, err = fmt.Fprintf(w, "\nWeather: %s. %d runs a month.\n", a.Basis.Weather, a.Basis.Members)
	return err
}
