package oracle

import (
	"fmt"

	"campwright/pv"
)

type shadeMaximum struct {
	V Num `json:"v_v"`
	I Num `json:"i_a"`
	P Num `json:"p_w"`
}

type shadeCase struct {
	ID         string         `json:"id"`
	Topology   string         `json:"topology"`
	Name       string         `json:"name"`
	Module     string         `json:"module"`
	Cell       float64        `json:"cell_temp_c"`
	Substrings int            `json:"substrings_per_module"`
	Drop       float64        `json:"bypass_drop_v"`
	Light      [][][]float64  `json:"strings_irradiance_w_m2"`
	Voc        Num            `json:"v_oc_v"`
	Isc        Num            `json:"i_sc_a"`
	Maxima     []shadeMaximum `json:"local_maxima"`
	Global     Num            `json:"global_index"`
	GlobalP    Num            `json:"global_p_w"`
	GlobalV    Num            `json:"global_v_v"`
	GlobalI    Num            `json:"global_i_a"`
	Unshaded   Num            `json:"unshaded_p_w"`
	V          []float64      `json:"iv_v"`
	I          []float64      `json:"iv_a"`
}

func judgeShade(f *folder, s *sheet) {
	var file struct {
		prose
		Cases []shadeCase `json:"cases"`
	}
	if !f.load(s, &file) {
		return
	}
	set, ok := f.moduleSet(s, file.modulesFile())
	if !ok {
		return
	}
	var shade pv.Shade
	for _, c := range file.Cases {
		m, ok := set.byID[c.Module]
		if !ok {
			s.fault(c.ID, "module %q is not in %s", c.Module, file.modulesFile())
			continue
		}
		if len(c.Light) == 0 {
			s.fault(c.ID, "no strings")
			continue
		}
		a, err := pv.NewArray(pv.ArrayParams{Module: m, InSeries: len(c.Light[0]), Strings: len(c.Light), Substrings: c.Substrings, DropV: c.Drop})
		if err == nil {
			err = shade.Set(a, c.Light, c.Cell)
		}
		if err != nil {
			s.fault(c.ID, "%v", err)
			continue
		}
		c.judge(s, &shade, a)
	}
}

// judge compares at the file's own tolerances.
func (c *shadeCase) judge(s *sheet, shade *pv.Shade, a pv.Array) {
	power, volts, amps := s.own("p_w"), s.own("v_v"), s.own("iv_a")
	place := fmt.Sprintf("%s %s %s", c.ID, c.Topology, c.Name)
	s.seeNum("v_oc_v", "v_v", shade.Voc(), c.Voc, volts, place)
	s.seeNum("i_sc_a", "iv_a", shade.Isc(), c.Isc, amps, place)
	maxima := shade.Maxima()
	s.see("local_maxima (count)", "", float64(len(maxima)), float64(len(c.Maxima)), Limit{}, place)
	if len(maxima) == len(c.Maxima) {
		for k, want := range c.Maxima {
			at := fmt.Sprintf("%s maximum %d", place, k)
			s.seeNum("local_maxima v_v", "v_v", maxima[k].V, want.V, volts, at)
			s.seeNum("local_maxima p_w", "p_w", maxima[k].P, want.P, power, at)
			s.seeNum("local_maxima i_a", "", maxima[k].I, want.I, topCurrent(volts, want.P.V, want.V.V), at)
		}
		best := 0
		if len(maxima) == 0 {
			best = -1
		}
		for k := range maxima {
			if maxima[k].P > maxima[best].P {
				best = k
			}
		}
		if !c.Global.Null || best >= 0 { // null, like -1, says that there is none
			s.seeNum("global_index", "", float64(best), c.Global, Limit{}, place)
		}
	}
	top := shade.Best()
	s.seeNum("global_p_w", "p_w", top.P, c.GlobalP, power, place)
	s.seeNum("global_v_v", "v_v", top.V, c.GlobalV, volts, place)
	s.seeNum("global_i_a", "", top.I, c.GlobalI, topCurrent(volts, c.GlobalP.V, c.GlobalV.V), place)
	brightest := 0.0
	for _, str := range c.Light {
		for _, m := range str {
			for _, g := range m {
				brightest = max(brightest, g)
			}
		}
	}
	s.seeNum("unshaded_p_w", "p_w", a.At(brightest, c.Cell).MaxPower().P, c.Unshaded, power, place)
	judgeCurve(s, shade.Current, c.V, c.I, amps, "iv_a", place)
}

// topCurrent is the tolerance of the current at a maximum: the top is flat, so a tolerance in voltage moves the current by the power
// over the voltage squared.
func topCurrent(volts Limit, power, at float64) Limit {
	if at <= 0 {
		return Limit{}
	}
	return Limit{Abs: volts.Abs * power / (at * at)}
}
