package oracle

import (
	"campwright/battery"
	"campwright/convert"
	"campwright/system"
	"campwright/trip"
)

// socWays are the ways the program has to run an energy balance without voltages: its controller and bank alone, and the bus that a
// trip uses.
var socWays = []struct {
	name string
	run  func(rig *socRig, stepH float64, pvW, loadW []float64) ([]socStep, error)
}{
	{" (bank)", runBank},
	{" (trip bus)", runTrip},
}

// socStep is what one step did, in watts as means over it.
type socStep struct {
	bus, loss, clipped, direct, charge, discharge, curtailed, unserved, soc float64
}

// bank is the rig's battery in the setting without voltages.
func (rig *socRig) bank() (battery.Model, error) {
	b := rig.Battery
	return battery.NewIdeal(battery.IdealParams{
		NominalV: b.NominalV, CapacityAh: b.CapacityAh, ChargeEff: b.ChargeEff, DischargeEff: b.DischargeEff,
		MaxChargeW: b.MaxChargeW, MaxDischargeW: b.MaxDischargeW, SoCMin: b.SoCMin, SoCMax: b.SoCMax,
	})
}

// controller is one of a single efficiency at every load, whose only limit is its output power.
func (rig *socRig) controller() (convert.Controller, error) {
	return convert.NewController(convert.ControllerParams{
		Name: rig.ID, Kind: convert.StepBoth, SurvivesV: 2000, OutputA: 2000, PowerW: rig.Controller.MaxOutput, BankV: rig.Battery.NominalV,
		Peak: rig.Controller.Efficiency, Curve: convert.FlatCurve(),
	})
}

// idealTempC is the temperature at which the bank is run; without voltages nothing depends on it.
const idealTempC = 25

// runBank steps controller and bank: the array serves loads first, the rest charges; what is lacking comes from the bank.
func runBank(rig *socRig, stepH float64, pvW, loadW []float64) ([]socStep, error) {
	bank, err := rig.bank()
	if err != nil {
		return nil, err
	}
	controller, err := rig.controller()
	if err != nil {
		return nil, err
	}
	state := battery.State{SoC: rig.Battery.Initial}
	steps := make([]socStep, len(pvW))
	v := rig.Battery.NominalV
	for i := range steps {
		// An array voltage well above the bank's and well below the limit: the window of voltages plays no part.
		out := controller.Deliver(convert.Input{MPPW: pvW[i], MPPV: 2 * v, OpenV: 3 * v, BusV: v, Ran: true})
		st := &steps[i]
		st.bus = out.BusW
		// The reference books the loss of all that the array offers, and counts what the limit keeps back after it.
		st.loss = pvW[i] * (1 - controller.Params().Peak)
		st.clipped = out.LossW + out.PowerW + out.CurrentW + out.VoltageW - st.loss
		st.direct = min(st.bus, loadW[i])
		surplus, deficit := st.bus-st.direct, loadW[i]-st.direct
		var flow battery.Flow
		state, flow = bank.Step(state, surplus-deficit, idealTempC, stepH)
		st.charge, st.discharge = max(flow.PowerW, 0), max(-flow.PowerW, 0)
		st.curtailed, st.unserved = surplus-st.charge, deficit-st.discharge
		st.soc = state.SoC
	}
	return steps, nil
}

// neverV is a charging voltage that the bank without voltages never reaches.
const neverV = 900

// runTrip plays the same inputs through the bus of a trip.
func runTrip(rig *socRig, stepH float64, pvW, loadW []float64) ([]socStep, error) {
	bank, err := rig.bank()
	if err != nil {
		return nil, err
	}
	controller, err := rig.controller()
	if err != nil {
		return nil, err
	}
	set, err := convert.NewSetpoints(convert.SetpointsParams{AbsorptionV: neverV})
	if err != nil {
		return nil, err
	}
	sys := &system.System{
		Controllers: []system.Controller{{Unit: controller, Set: set}},
		Bank:        system.Bank{Model: bank, StartSoC: rig.Battery.Initial},
	}
	balanced, err := trip.Balance(sys, stepH, pvW, loadW)
	if err != nil {
		return nil, err
	}
	steps := make([]socStep, len(balanced))
	for i, b := range balanced {
		steps[i] = socStep{
			bus: b.BusW, loss: b.LossW, clipped: b.ClippedW, direct: min(b.BusW, loadW[i]), charge: b.ChargeW, discharge: b.DischargeW,
			curtailed: b.CurtailedW, unserved: b.UnservedW, soc: b.SoC,
		}
	}
	return steps, nil
}
