package conductor_test

import (
	"fmt"

	"campwright/conductor"
)

// The same 2/0 cable before the same 250 A fuse passes one book and fails another.
func ExampleLargestFuse() {
	gauge, _ := conductor.OfAWG(-1)
	for _, book := range []conductor.Book{conductor.USRV, conductor.USBuilding} {
		rating, err := conductor.Ampacity(conductor.Use{
			Book: book, Side: conductor.Battery, Gauge: gauge,
			InsulationC: 105, AmbientC: 30, Together: 2, TerminalC: 75,
		})
		if err != nil {
			fmt.Println(err)
			return
		}
		limit, err := conductor.LargestFuse(rating, 12)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.0f A by %s, 250 A fuse allowed: %v\n", book, rating.Amps, rating.Origin.Text, limit.Allows(250))
	}
	// Output:
	// us-rv: 330 A by 33 CFR 183.425 table 5, 250 A fuse allowed: true
	// us-building: 175 A by NEC table 310.16, 250 A fuse allowed: false
}

// A cable through an engine space, bundled with four others: the rating prints its own working.
func ExampleRating_Working() {
	gauge, _ := conductor.OfAWG(6)
	rating, err := conductor.Ampacity(conductor.Use{
		Book: conductor.USBoat, Side: conductor.Battery, Gauge: gauge,
		InsulationC: 105, AmbientC: 30, Together: 5, EngineSpace: true,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	working := rating.Working()
	fmt.Printf("%.1f A = %s\n", rating.Amps, working.Formula)
	for _, term := range working.Terms {
		fmt.Printf("%s = %g, %s: %s\n", term.Symbol, term.Figure.Value, term.Figure.Name, term.Figure.Source)
	}
	// Output:
	// 61.2 A = I0 × ke × kn
	// I0 = 120, 6 AWG at 105 C: 33 CFR 183.425 table 5 (standard seen)
	// ke = 0.85, engine space: 33 CFR 183.425 table 5 note 1 (standard seen)
	// kn = 0.6, conductors laid together: 33 CFR 183.435 and table 5 note 2, taken at any voltage (standard seen)
}

// The smallest size for a charge line, and what forced it.
func ExampleSize() {
	choice, err := conductor.Size(conductor.Need{
		Use:    conductor.Use{Book: conductor.USRV, Side: conductor.Vehicle, InsulationC: 105, AmbientC: 40, Together: 2},
		System: conductor.AWG, Lasting: 32, Fuse: 60, OneWayM: 7.6, Volts: 13.8,
		DropAmps: 32, DropShare: 0.05, DropC: 60,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, decided by %s; loses %.2f V\n", choice.Gauge, choice.Decided, choice.Drop)
	for _, t := range choice.Thinner[len(choice.Thinner)-2:] {
		fmt.Printf("%s fails by %s\n", t.Gauge, t.Against)
	}
	// Output:
	// 4 AWG, decided by voltage drop; loses 0.47 V
	// 8 AWG fails by voltage drop
	// 6 AWG fails by voltage drop
}
