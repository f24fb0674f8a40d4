package web

import (
	"slices"
	"testing"
)

func TestTogether(t *testing.T) {
	for _, c := range []struct{ list, want []string }{
		{
			[]string{"clamp the cable of alternator 1 with the engine hot", "clamp the cable of alternator 2 with the engine hot"},
			[]string{"clamp the cable of alternator 1 and 2 with the engine hot"},
		},
		{
			[]string{
				"read back the charging voltage of controller left, and see that equalize is off", "look at the wind",
				"read back the charging voltage of controller right side, and see that equalize is off", "read back the charging voltage of charger one, and see that equalize is off",
			},
			[]string{"read back the charging voltage of controller left, controller right side and charger one, and see that equalize is off", "look at the wind"},
		},
		{[]string{"find out: Voc of slim", "find out: Vmp of slim"}, []string{"find out: Voc of slim", "find out: Vmp of slim"}},
		{
			[]string{"look up the bank voltage at which the inverter stops", "look up the bank voltage at which the battery's electronics open"},
			[]string{"look up the bank voltage at which the inverter stops", "look up the bank voltage at which the battery's electronics open"},
		},
		{nil, nil},
	} {
		list := make([]Both, len(c.list))
		for i, text := range c.list {
			list[i] = alike(text)
		}
		var got []string
		for _, b := range together(list) {
			got = append(got, b.US)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
	two := []Both{{"lay a tape of 10 ft along the way of it", "lay a tape of 3 m along the way of it"}, {"lay a tape of 20 ft along the way of it", "lay a tape of 6 m along the way of it"}}
	if got := together(two); !slices.Equal(got, two) {
		t.Errorf("%+v", got)
	}
}
