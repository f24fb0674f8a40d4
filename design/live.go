package design

import (
	"fmt"
	"strings"

	"campwright/system"
)

// LiveAnswer says what opening one fuse, switch or plug does.
type LiveAnswer struct {
	Device    DeviceRow `json:"device"`
	Sentence  string    `json:"sentence"`
	Dark      []string  `json:"dark" nullable:"false"`     // what the bank no longer feeds
	Unsteady  []string  `json:"unsteady" nullable:"false"` // what only a charger still feeds, without the bank
	Before    LiveEnd   `json:"before"`                    // its end towards where the run begins
	Behind    LiveEnd   `json:"behind"`                    // its other end
	Order     []string  `json:"order" nullable:"false"`    // what to open, in order, to make both ends dead
	Remaining []string  `json:"remaining" nullable:"false"`
	Prove     []string  `json:"prove" nullable:"false"` // how a meter shows that it is dead
	Caution   string    `json:"caution"`
}

// LiveEnd is one end of an opened device.
type LiveEnd struct {
	Towards string   `json:"towards"`
	Sources []string `json:"sources" nullable:"false"` // that still make it live
}

// Live answers for one device, found by its name or path.
func (w *Wired) Live(device string) (LiveAnswer, error) {
	n := w.Net()
	d, ok := n.FindDevice(device)
	if !ok {
		return LiveAnswer{}, fmt.Errorf("no single device goes by %q", device)
	}
	l := n.Open(d)
	a := LiveAnswer{Device: w.deviceRow(d), Dark: l.Dark, Unsteady: l.Unsteady, Order: l.Order, Remaining: l.Remaining, Prove: l.Prove, Caution: Caution,
		Before: LiveEnd{l.BeforeAt, l.Before}, Behind: LiveEnd{l.BehindAt, l.Behind}}
	a.Sentence = liveSentence(a.Device.Name, &l)
	return a, nil
}

func liveSentence(name string, l *system.Live) string {
	dark := "nothing goes dark"
	switch k := len(l.Dark); {
	case k == 0 && len(l.Unsteady) > 0:
		dark = "nothing goes dark while sun, engine or hookup feeds; without them " + counted(l.Unsteady)
	case k > 0 && k <= 4:
		dark = "what goes dark is " + strings.Join(l.Dark, ", ")
	case k > 4:
		dark = fmt.Sprintf("%d things go dark", k)
	}
	if len(l.Dark) > 0 && len(l.Unsteady) > 0 {
		dark += ", and without sun, engine or hookup " + counted(l.Unsteady) + " as well"
	}
	live := "both its ends are dead"
	switch {
	case len(l.Before) > 0 && len(l.Behind) > 0:
		live = "both its ends stay live"
	case len(l.Before) > 0:
		live = "its end towards " + l.BeforeAt + " stays live"
	case len(l.Behind) > 0:
		live = "its end towards " + l.BehindAt + " stays live"
	}
	return fmt.Sprintf("With %s open, %s; %s.", name, dark, live)
}

// counted tells what goes dark, by name where it is little.
func counted(names []string) string {
	if len(names) > 4 {
		return fmt.Sprintf("%d things do", len(names))
	}
	return "what does is " + strings.Join(names, ", ")
}

// DeviceNames returns the names of all devices that can be asked for, in their order.
func (w *Wired) DeviceNames() []string {
	n := w.Net()
	var list []string
	for i := range n.Devices {
		if n.Devices[i].Opens() {
			list = append(list, n.Devices[i].Title(n))
		}
	}
	return list
}
