package oracle

import "campwright/pv"

type celltempCase struct {
	ID          string  `json:"id"`
	Model       string  `json:"model"`
	Mounting    string  `json:"mounting"`
	Plane       float64 `json:"poa_w_m2"`
	Air         float64 `json:"air_temp_c"`
	Wind        float64 `json:"wind_m_s"`
	U0          float64 `json:"u0_w_m2_k"`
	U1          float64 `json:"u1_w_s_m3_k"`
	NOCT        float64 `json:"noct_c"`
	A           float64 `json:"a"`
	B           float64 `json:"b_s_m"`
	DeltaT      float64 `json:"delta_t_k"`
	Uc          float64 `json:"u_c_w_m2_k"`
	Uv          float64 `json:"u_v_w_s_m3_k"`
	Efficiency  float64 `json:"module_efficiency"`
	Absorptance float64 `json:"absorptance"`
	Cell        Num     `json:"cell_temp_c"`
}

func judgeCelltemp(f *folder, s *sheet) {
	var file struct {
		prose
		Cases []celltempCase `json:"cases"`
	}
	if !f.load(s, &file) {
		return
	}
	for _, c := range file.Cases {
		var m pv.CellTemperature
		switch c.Model {
		case "faiman":
			m = pv.Faiman{U0: c.U0, U1: c.U1}
		case "ross_noct":
			m = pv.NOCT(c.NOCT)
		case "sapm":
			m = pv.SAPM{A: c.A, B: c.B, DeltaT: c.DeltaT}
		case "linear_heat_loss":
			m = pv.HeatLoss{Uc: c.Uc, Uv: c.Uv, Efficiency: c.Efficiency, Absorptance: c.Absorptance}
		default:
			s.fault(c.ID, "model %q is not known", c.Model)
			continue
		}
		s.seeNum("cell_temp_c ("+c.Model+")", "cell_temp_c", m.Cell(c.Plane, c.Air, c.Wind), c.Cell, Limit{Abs: 1e-6}, c.ID+" "+c.Mounting)
	}
}
