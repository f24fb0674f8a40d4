package oracle_test

import (
	"fmt"
	"testing/fstest"

	"campwright/internal/oracle"
)

// One cell temperature by hand: a module with NOCT 45 °C stands 25 K above the air at 800 W/m².
func ExampleRun() {
	folder := fstest.MapFS{"celltemp.json": &fstest.MapFile{Data: []byte(`{"cases": [
		{"id": "hand", "model": "ross_noct", "poa_w_m2": 800, "air_temp_c": 20, "wind_m_s": 1, "noct_c": 45, "cell_temp_c": 45}]}`)}}
	r := oracle.Run(folder, "by hand")
	for _, l := range r.Lines {
		fmt.Println(l.File, l.Field, l.Count, "compared,", l.Beyond, "beyond", l.Target)
	}
	fmt.Println("failed:", r.Failed())
	// Output:
	// celltemp.json cell_temp_c (ross_noct) 1 compared, 0 beyond 1e-06
	// failed: false
}
