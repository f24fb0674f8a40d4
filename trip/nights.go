package trip

import (
	"fmt"
	"math"
	"strings"
	"time"

	"campwright/rig"
)

// nights counts the nights below the floor over all members, and tells whether the stay could go on for ever: the chance per night in its
// worst month is within the aim, and the bank does not sink over the last two weeks.
func (f *Forecast) nights(run *Run, runs []memberRun) Nights {
	n := Nights{Floor: run.System.Floor, Aim: run.System.DarkAim, StartsBelow: run.System.Bank.StartSoC < run.System.Floor}
	var dark, all [13]int // by month, from 1
	perRun := make([]float64, len(runs))
	hit := 0
	for m := range runs {
		below := 0
		for d, low := range runs[m].lows {
			month := f.course.Days[d].Evening.Month()
			all[month]++
			if float64(low) < runs[m].floor {
				dark[month]++
				below++
			}
		}
		if below > 0 {
			hit++
		}
		perRun[m] = float64(below) / float64(len(runs[m].lows))
	}
	worst, share := 0, -1.0
	for month := 1; month <= 12; month++ {
		n.Chance.Count += dark[month]
		n.Chance.Of += all[month]
		if all[month] > 0 && float64(dark[month])/float64(all[month]) > share {
			worst, share = month, float64(dark[month])/float64(all[month])
		}
	}
	n.Chance.Low, n.Chance.High = nightBounds(perRun, hit)
	n.Chance.Text = counted(hit, len(runs)).Text
	n.Worst = fmt.Sprintf("%s: %s of nights", time.Month(worst), percent(share))
	n.AimMet = share <= n.Aim
	n.Forever = n.AimMet && len(f.course.Days) >= 14 && !f.sinking(runs)
	n.Sentence = n.words(hit, len(runs))
	return n
}

// nightBounds returns bounds of the chance of a night below the floor, each of which holds with 95 % certainty. The nights of one run hang
// together, so the runs are what is counted: the mean of their shares, give or take 1.645 standard errors; with no such night at all, the
// chance of a run that holds one.
func nightBounds(perRun []float64, hit int) (low, high float64) {
	if hit == 0 {
		return 0, counted(0, len(perRun)).High
	}
	if len(perRun) == 1 {
		return 0, 1
	}
	mean := meanOf(perRun)
	half := 1.645 * math.Sqrt(variance(perRun)/float64(len(perRun)-1))
	return math.Max(0, mean-half), math.Min(1, mean+half)
}

// power tells how often what must never lose power went dark. However seldom it is, one bank is one path: a fuse, a lug or its electronics
// can take it away at any time, which no run of weather shows.
func (f *Forecast) power(doc *rig.Rig, runs []memberRun) []Kept {
	var list []Kept
	for _, name := range doc.Aims.NeverLose {
		onAC := false
		for i := range doc.Appliances {
			if doc.Appliances[i].Name == name {
				onAC = doc.Appliances[i].Runs == "ac"
			}
		}
		count := 0
		for m := range runs {
			if onAC && runs[m].acDark > 0 || !onAC && runs[m].dcDark > 0 {
				count++
			}
		}
		k := Kept{Appliance: name, Chance: counted(count, len(runs))}
		k.Words = fmt.Sprintf("%s would lose power in %s. ", upper(name), k.Chance.Text)
		if count == 0 {
			k.Words = fmt.Sprintf("%s lost power in none of %d runs of weather (%s). ", upper(name), len(runs), strings.TrimPrefix(k.Chance.Text, fmt.Sprintf("0 of %d runs: ", len(runs))))
		}
		k.Words += "That is one path: one fuse, one lug or the battery's own electronics can take it away on any night. What must not go dark needs a store of its own that takes over without a person, an alarm, and a plan; ask whoever prescribed it."
		list = append(list, k)
	}
	return list
}

// sinking tells whether the members' mean daily low fell over the last two weeks of the stay by more than two hundredths.
func (f *Forecast) sinking(runs []memberRun) bool {
	last := len(f.course.Days)
	week := func(from, to int) float64 {
		sum := 0.0
		for m := range runs {
			for _, low := range runs[m].lows[from:to] {
				sum += float64(low)
			}
		}
		return sum / float64((to-from)*len(runs))
	}
	return week(last-14, last-7)-week(last-7, last) > 0.02
}

// words says how the nights go.
func (n Nights) words(hit, of int) string {
	floor := fmt.Sprintf("below the reserve of %.0f %%", 100*n.Floor)
	if n.Chance.Count == 0 {
		return fmt.Sprintf("No night goes %s in any of %d runs.", floor, of)
	}
	met := "more than"
	if n.AimMet {
		met = "within"
	}
	return fmt.Sprintf("%s of all nights go %s, in %d of %d runs; worst in %s, %s the aim of %s.", percent(float64(n.Chance.Count)/float64(n.Chance.Of)), floor, hit, of, n.Worst, met, percent(n.Aim))
}
