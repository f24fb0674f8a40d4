package system

import "strings"

// twice are the kinds of part that owners also use as names, so that kind and name together would say them twice.
var twice = func() *strings.Replacer {
	var list []string
	for _, kind := range [...]string{"controller", "inverter", "charger", "generator", "array", "bank", "combiner"} {
		list = append(list, kind+" "+kind, kind)
	}
	return strings.NewReplacer(list...)
}()

// Once says the kind of a part once where its name holds it too: "controller controller 1" is controller 1. It is for what people read; terminals and
// paths keep both.
func Once(text string) string { return twice.Replace(text) }
