package system

import (
	"strings"

	"campwright/conductor"
	"campwright/convert"
	"campwright/figure"
)

// shore is a hookup as a source, with a limit that is kept on each leg [A], zero for none.
func (n *Network) shore(post convert.Service, limitA float64) *source {
	supply := &n.Sys.Supply
	split := n.TwoLegs() && post.Legs == 2
	s := source{name: "shore", words: "everything on at once, from shore at the inlet's rating", split: split, phases: n.TwoLegs() && !split, breakerA: post.Amps, continuous: post.Continuous, limitA: limitA}
	if post.Name != supply.Inlet.Name {
		s.name, s.words = "shore "+post.Name, "everything on at once, from a post of "+post.Name
	}
	makesUp := supply.MakeUp && len(n.Sys.Inverters) > 0
	if limitA > 0 {
		s.words = strings.Replace(s.words, "everything on at once, from shore at the inlet's rating", "everything on at once, shore within its limit", 1) + ": chargers give way first"
		if makesUp {
			s.words += ", then the battery makes up"
			s.makeUpA = n.makeUpAmps(supply.Inlet.Volts, split)
		}
	}
	s.behind(n.breakerAfter("inlet"))
	return &s
}

// post returns what is left between the inlet and the widest post that the file names, and whether that is narrower than the inlet.
func (n *Network) post() (post convert.Service, narrower bool) {
	inlet := n.Sys.Supply.Inlet
	words := make([]string, 0, len(n.Doc.Trip)+1)
	for i := range n.Doc.Trip {
		words = append(words, n.Doc.Trip[i].Hookup)
	}
	if n.Doc.Home != nil {
		words = append(words, n.Doc.Home.Hookup)
	}
	for _, w := range words {
		if there, ok := convert.ServiceNamed(w); ok {
			if s, ok := inlet.Narrower(there); ok && s.ContinuousVA() > post.ContinuousVA() {
				post = s
			}
		}
	}
	if post.Amps == 0 || post.ContinuousVA() >= inlet.ContinuousVA() {
		return inlet, false
	}
	return post, true
}

// makeUpAmps returns what the first inverter can give on each leg of a hookup [A], on the first of one that has no two.
func (n *Network) makeUpAmps(volts float64, two bool) [2]float64 {
	rated, v := n.Sys.Inverters[0].Unit.Params().RatedW/volts, &n.Doc.Inverters[0]
	if !two {
		return [2]float64{rated * MakeUpShare(v, "")}
	}
	return [2]float64{rated * MakeUpShare(v, "L1"), rated * MakeUpShare(v, "L2")}
}

// CordAmps returns what a conductor of the shore cord may carry [A], with its origin in words; zero where its size is not told. In American books that is the table of flexible
// cords with two conductors that carry current: the neutral of a cord with two legs carries only what they are unlike. Elsewhere it is the book's table for cable.
func (n *Network) CordAmps() (amps float64, origin string) {
	for i := range n.Runs {
		r := &n.Runs[i]
		if r.Path != "shore/cord" || r.Unknown || r.Gauge.State < figure.About {
			continue
		}
		if n.Book != conductor.AUNZ {
			amps, from, _ := conductor.Cord(r.Use.Gauge, 2)
			return amps, from.String()
		}
		if rating, err := conductor.Ampacity(r.Use); err == nil {
			return rating.Amps, rating.Origin.String()
		}
	}
	return 0, ""
}
