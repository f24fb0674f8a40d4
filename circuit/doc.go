// Package circuit finds the voltages and currents of a direct-current network: batteries, cables, fuses, loads that take constant
// power, current or resistance, charge controllers, solar modules and converters between two voltages.
//
// Describe the network as a list of named elements between named nodes (Network), then call Solve, or keep a Solver and change values
// between solutions. A network whose loads ask more than its lines can carry has no operating point; then the answer is an
// *InfeasibleError with the largest common factor on the loads that still has one. A converged number is never taken for an answer by itself: a
// solution is returned only with its proof (Proof) that it lies on the high-voltage branch, the one on which real gear runs.
//
// # Method
//
// Nodes tied by ideal sources and shorts are merged into one unknown with known offsets, so what remains is a symmetric conductance matrix.
// It is factored as LDLᵀ in minimum-degree order (rig networks are nearly trees, so there is almost no fill-in). Constant-power, photovoltaic and
// limited elements are met by Newton's method from the state with all loads off.
//
// The operating points of such a network are the stationary points of a potential whose curvature is the Jacobian J = G − Σ P/V²
// over the loads. Where J is positive definite the potential is strictly convex on a convex set of voltages, so at most one operating point lies
// there: the high-voltage one, which is also the long-term stable one [JEENINGA-2023]. LDLᵀ shows positive definiteness by the signs of its
// pivots at no extra cost. Where every load's port resistances are positive, Newton's method from the no-load state falls monotonically
// to that point, and a failed pivot on the way proves that there is none. Otherwise, and to find the critical factor, the loads are raised from
// zero and the solution is followed to the point where J turns singular. With sources, modules and limited devices each step is searched
// along the slope of the potential, which is convex with the loads off, so that the no-load state is found from anywhere. Where loads fold
// back, a last attempt lets the voltages sink as capacitors would after switching on.
//
// A converter is a load at its input and a source at its output; the two are solved in turn until they agree to 1e-12. Currents come from
// voltage differences kept to the last digit, so Kirchhoff's first law holds to about 1e-15 of the largest current even where a microohm stands beside a
// megohm.
//
// # Left out, and why
//
// Time (inductance, capacitors at switch-on, battery charge): the answer is one steady state. Temperature: give resistances at working
// temperature (package conductor). Cut-out and restart of converters: whether a unit latches off is a matter of its history, which the caller
// has; the network is solved for the units that run.
package circuit
