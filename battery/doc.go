// Package battery models a bank of identical battery blocks at its terminals: lithium iron phosphate (LFP), and lead-acid as flooded,
// AGM or gel. It answers what a bank can take and give in a step of time, where the energy of that step went, and what its voltage is.
//
// A Model is made once from Params by New (or from IdealParams by NewIdeal) and never changes; a State is the charge it holds. Step moves
// a State by one step of constant current, whose power at the terminals is the power asked for. The step is exact for the piecewise
// linear open-circuit curve: whatever its length, the energy at the terminals equals the change of stored energy plus the losses, each
// worked out by itself.
//
// What it leaves out, and why. The open-circuit voltage does not change with temperature (under 1 mV/K for a cell). There is no slow
// relaxation after a change of current: at steps of minutes its mean is inside the resistance and the polarisation. Cells of a block and
// blocks of a bank are alike and equally warm; how unequal leads divide the current is a matter for the circuit. Single cells that limit
// the block show up as its health.
//
// Signs: power and current are positive when charging. Temperatures are those of the cells. Health, efficiencies and states of charge are
// shares of one. A state of charge is a share of the present capacity, health included.
//
// Numbers come from published cell parameters [BPX], handbook tables [IEEE485] [TM-6140] [SANDIA-COULOMB] and measured cells
// [LFP-COLD]; what is trade practice is marked so where it stands.
package battery
