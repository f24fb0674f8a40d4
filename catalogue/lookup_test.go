package catalogue_test

import (
	"slices"
	"testing"

	"campwright/catalogue"
	"campwright/internal/near"
	"campwright/quantity"
)

func TestFind(t *testing.T) {
	for said, want := range map[string]string{
		"Microwave":                   "microwave",
		"our old microwave oven":      "microwave",
		"Laptops":                     "laptop",
		"CPAP":                        "breathing machine",
		"cpap with heated hose":       "breathing machine with humidifier",
		"LED ceiling light":           "lights",
		"Tv":                          "television",
		"12 volt TV in the bedroom":   "12 V television",
		"internet":                    "compact satellite internet terminal",
		"roof air":                    "air conditioner",
		"A/C":                         "air conditioner",
		"ice chest / portable fridge": "compressor cool box",
		"residential fridge":          "household refrigerator",
		"gas fridge":                  "absorption refrigerator",
		"heater":                      "furnace",
		"diesel heater":               "fuel-fired air heater",
		"the pump":                    "water pump",
		"e-bikes":                     "bicycle battery charger",
	} {
		if a, ok := catalogue.Find(said); !ok || a.Name != want {
			t.Errorf("%q finds %q, want %q", said, a.Name, want)
		}
	}
	for _, said := range []string{"", "  ", "lathe", "kiln", "microwavely", "tvs2"} {
		if a, ok := catalogue.Find(said); ok {
			t.Errorf("%q finds %q", said, a.Name)
		}
	}
}

func TestSuggest(t *testing.T) {
	for said, want := range map[string]string{
		"microwvae": "microwave", "refridgerator": "compressor refrigerator", "laptpo": "laptop", "furnce": "furnace", "kettel": "electric kettle",
		"breathing thing": "breathing machine", "dish washr": "dishwasher",
	} {
		if got := catalogue.Suggest(said); !slices.Contains(got, want) || len(got) > 5 {
			t.Errorf("%q suggests %q, want %q among them", said, got, want)
		}
	}
	for _, said := range []string{"", "xyzzyqqq"} {
		if got := catalogue.Suggest(said); len(got) != 0 {
			t.Errorf("%q suggests %q", said, got)
		}
	}
}

func TestForUnknown(t *testing.T) {
	boards, ok := catalogue.ForUnknown("radio memory and control boards", "dc")
	if !ok {
		t.Error("two things by name are not known")
	}
	near.Abs(t, "radio memory and control boards", boards.Value, 0.25+2, 1e-9, "sum of the two rows of the table of loads")
	near.Abs(t, "high end", boards.High, 0.6+6, 1e-9, "sum of the two rows of the table of loads")
	three, ok := catalogue.ForUnknown("stereo memory, boards & detectors", "dc")
	if !ok {
		t.Error("three things by name are not known")
	}
	near.Abs(t, "stereo memory, boards & detectors", three.Value, 0.25+2+1.2, 1e-9, "sum of three rows of the table of loads")
	lights, ok := catalogue.ForUnknown("lights", "dc")
	if !ok || lights.Low != 1.5 || lights.High != 36 || lights.Kind != quantity.Power {
		t.Errorf("lights: %+v", lights)
	}
	blower, ok := catalogue.ForUnknown("furnace", "dc")
	if !ok || blower.Low != 70 || blower.High != 130 {
		t.Errorf("a furnace's blower: %+v", blower)
	}
	for _, c := range []struct {
		name, circuit string
		want          catalogue.Typical
	}{
		{"gadget of the former owner", "dc", catalogue.UnknownDC},
		{"gadget of the former owner", "ac", catalogue.UnknownAC},
		{"gadget of the former owner", "propane", catalogue.UnknownBurn},
		{"radio memory and gadgets", "dc", catalogue.UnknownDC},
		{"microwave", "propane", catalogue.UnknownBurn}, // it is known, but not on that
		{"", "dc", catalogue.UnknownDC},
		{" and , ", "dc", catalogue.UnknownDC},
	} {
		if got, ok := catalogue.ForUnknown(c.name, c.circuit); ok || got != c.want {
			t.Errorf("%q on %s: known %v, %+v", c.name, c.circuit, ok, got)
		}
	}
}
