package load_test

import (
	"fmt"

	"campwright/load"
)

// A television of 22 W from six to half past ten, 1 W on standby, in hourly steps.
func ExamplePlain_Column() {
	evening, err := load.NewSchedule(load.ScheduleParams{When: load.Hours, Spans: []load.Span{{From: 18 * 60, To: 22*60 + 30}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	tv, err := load.NewPlain(load.PlainParams{RunningW: 22, Duty: 1, StandbyW: 1, Count: 1, PowerFactor: 1, Schedule: evening})
	if err != nil {
		fmt.Println(err)
		return
	}
	day := make([]float64, load.Steps(60))
	if err := tv.Column(day, 60, load.Sun{}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("17 h %.1f W, 18 h %.1f W, 22 h %.1f W; a day %.1f Wh\n", day[17], day[18], day[22], tv.DailyWh(load.Sun{}))
	// Output:
	// 17 h 1.0 W, 18 h 22.0 W, 22 h 11.5 W; a day 118.5 Wh
}

// An absorption refrigerator cannot keep cold on the hottest days, whatever feeds it.
func ExampleCooler_Duty() {
	box, err := load.NewCooler(load.AbsorptionPropane())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, tC := range []float64{15, 25, 40} {
		duty, keeps := box.Duty(tC)
		fmt.Printf("%.0f C: %.0f %%, keeps cold: %v\n", tC, 100*duty, keeps)
	}
	// Output:
	// 15 C: 34 %, keeps cold: true
	// 25 C: 65 %, keeps cold: true
	// 40 C: 100 %, keeps cold: false
}
