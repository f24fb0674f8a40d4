package design

import (
	"math"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
)

// unsized gives a size to runs that are written without one, for the current that the states make in them.
func (p *plan) unsized() {
	paths := p.full.RunPaths()
	for i := range paths {
		w := &p.w.Runs[i]
		if w.Gauge.State != figure.Absent || w.Ohms.Given() || w.Reading != nil {
			continue
		}
		r, ok := p.net.Run(paths[i])
		if !ok || r.Side == conductor.Photovoltaic && !r.Unknown {
			continue
		}
		a := ask{name: r.Title(), from: w.From, to: w.To, share: 0.03, lasting: p.states(r.Path), route: w.Route}
		for _, d := range r.Devices {
			if q := &p.net.Devices[d]; q.Protects() && q.RatingA > 0 {
				a.fuse = q.RatingA
			}
		}
		n := p.need(a, r.Side, r.Length)
		n.Use.AmbientC, n.DropC = r.Use.AmbientC, r.HotC // where the run itself says what air is around it
		g, c, ok := p.size(n, a, paths[i]+"/gauge", r.Length)
		if !ok {
			continue
		}
		w.Gauge = value(g.String(), quantity.Section)
		p.choices = append(p.choices, c)
		p.sized = append(p.sized, sized{run: i, gauge: g, side: r.Side, choice: len(p.choices) - 1, rating: a.fuse})
	}
}

// states returns the largest current that any state makes in a run [A].
func (p *plan) states(path string) float64 {
	most := 0.0
	for _, s := range p.net.States() {
		at := p.net.Solve(s)
		for i := range at.Runs {
			if p.net.Runs[i].Path == path {
				most = math.Max(most, math.Abs(at.Runs[i].Amps))
			}
		}
	}
	return most
}
