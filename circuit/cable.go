package circuit

import "campwright/conductor"

// Cable returns the resistor of one conductor between two nodes: a run has two of them, there and back.
//
//	name         of the element
//	a, b         nodes
//	gauge        size of the conductor
//	metres       its length [m], above zero
//	conductorC   its temperature [°C], −60 to 250
//
// New refuses it when gauge or length is none.
func Cable(name, a, b string, gauge conductor.Gauge, metres, conductorC float64) Element {
	return Element{Name: name, Kind: Resistor, A: a, B: b, Ohms: metres * gauge.OhmsPerMetre(conductorC)}
}
