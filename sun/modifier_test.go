package sun

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// The table of the physical modifier against the formula itself, everywhere.
func TestPhysical_TableAgainstFormula(t *testing.T) {
	for _, g := range []Glass{PlainGlass, {1.1, 0, 0}, {2.9, 200, 0.05}} {
		m, err := NewPhysical(g)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 10001 {
			cos := float64(i) / 10000
			near.Abs(t, "modifier", m.At(cos), g.transmitted(cos)/g.transmitted(1), 3e-8, "1024 cubics")
		}
	}
}

// Falling from one to nothing, whatever the model; straight light passes whole and light from behind not at all.
func TestModifier_Shape(t *testing.T) {
	a, err := NewASHRAE(0.05)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPhysical(PlainGlass)
	if err != nil {
		t.Fatal(err)
	}
	for name, m := range map[string]*Modifier{"ASHRAE": &a, "physical": &p} {
		near.Abs(t, name+" straight", m.At(1), 1, 1e-12, "by definition")
		near.Abs(t, name+" beyond straight", m.At(1.1), 1, 1e-12, "held at straight")
		near.Abs(t, name+" along", m.At(0), 0, 1e-12, "nothing enters along the face")
		near.Abs(t, name+" behind", m.At(-0.5), 0, 0, "the back is opaque")
		last := 1.0
		for angle := 0; angle <= 90; angle++ {
			v := m.At(math.Cos(float64(angle) * radian))
			near.Within(t, name, v, 0, last+1e-9, "it falls with the angle")
			last = v
		}
	}
	whole := Modifier{}
	near.Abs(t, "the zero value", whole.At(0.01), 1, 0, "passes all")
	near.Abs(t, "the zero value's sky", whole.Sky(30), 1, 0, "passes all")
}

// [DUFFIE-BECKMAN] section 5.4: the sky's equivalent angle is near 60 degrees for flat to steep planes, the ground's falls from 90 to 60.
func TestModifier_Diffuse(t *testing.T) {
	a, err := NewASHRAE(0.05)
	if err != nil {
		t.Fatal(err)
	}
	// By hand from eq. 5.4.1 and 5.4.2, tilt 60: sky 59.7 - 8.328 + 5.3892 = 56.7612; ground 90 - 34.728 + 9.6948 = 64.9668.
	near.Abs(t, "sky", a.Sky(60), 1-0.05*(1/math.Cos(56.7612*radian)-1), 1e-12, "worked by hand")
	near.Abs(t, "ground", a.Ground(60), 1-0.05*(1/math.Cos(64.9668*radian)-1), 1e-12, "worked by hand")
	near.Abs(t, "beyond 90", a.Sky(120), a.Sky(90), 0, "held at 90 degrees")
	near.Abs(t, "below 0", a.Ground(-1), a.Ground(0), 0, "held at 0 degrees")

	// A second way: the uniform sky integrated over the half sphere. The equivalent angle is a fit; the integral is exact.
	p, err := NewPhysical(PlainGlass)
	if err != nil {
		t.Fatal(err)
	}
	sum, weight := 0.0, 0.0
	for i := range 9000 {
		theta := (float64(i) + 0.5) * 0.01 * radian
		w := math.Sin(theta) * math.Cos(theta)
		sum += w * p.At(math.Cos(theta))
		weight += w
	}
	near.Abs(t, "sky on the flat", p.Sky(0), sum/weight, 0.01, "the equivalent angle is good to 1 %")
}

func TestModifier_Refuses(t *testing.T) {
	for _, b0 := range []float64{-0.001, 0.501, math.NaN(), math.Inf(1)} {
		if _, err := NewASHRAE(b0); err == nil {
			t.Errorf("b0 %v: no error", b0)
		}
	}
	for _, g := range []Glass{{1, 4, 0.002}, {3.1, 4, 0.002}, {1.5, -1, 0.002}, {1.5, 201, 0.002}, {1.5, 4, -0.001}, {1.5, 4, 0.06}, {math.NaN(), 4, 0.002}} {
		if _, err := NewPhysical(g); err == nil {
			t.Errorf("glass %v: no error", g)
		}
	}
}

func TestEffective(t *testing.T) {
	g, l := sunny(t, 40, 120)
	pg, err := g.OnPlane(Plane{30, 170, 0.2})
	if err != nil {
		t.Fatal(err)
	}
	light, out := NewPlaneLight(g.Len()), make([]float64, g.Len())
	if err := pg.Transpose(light, l, Perez); err != nil {
		t.Fatal(err)
	}
	m, err := NewASHRAE(0.05)
	if err != nil {
		t.Fatal(err)
	}
	if err := pg.Effective(out, light, &m); err != nil {
		t.Fatal(err)
	}
	lit := 0
	for i := range out {
		want := light.Sky[i]*m.Sky(30) + light.Ground[i]*m.Ground(30)
		if light.Beam[i] > 0 {
			lit++
			want += light.Beam[i] * m.At(math.Cos(pg.Incidence(i)*radian))
		}
		near.Abs(t, "effective light", out[i], want, 1e-9, "part by part")
		near.Within(t, "effective light", out[i], 0, light.Beam[i]+light.Sky[i]+light.Ground[i], "glass adds nothing")
	}
	if lit < 50 {
		t.Errorf("%d steps with beam", lit)
	}
	if err := pg.Effective(out[1:], light, &m); err == nil {
		t.Error("short result: no error")
	}
	if err := pg.Effective(out, PlaneLight{Beam: light.Beam}, &m); err == nil {
		t.Error("missing columns: no error")
	}
}
