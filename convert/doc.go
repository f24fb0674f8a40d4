// Package convert holds the devices that change electricity from one form to another or bring it aboard: charge controllers, inverters,
// shore chargers, DC-DC units, alternators with the charge line, generators and shore services.
//
// Each device is made once by New…, which checks what it is told and reports every fault at once, and then answers without errors:
// what it delivers, what it loses, what limits it. Energy closes in every answer: what went in equals what came out plus named losses
// plus named parts that could not be taken. What may be left out and what is then taken stands beside each parameter; Params returns it
// filled in. Typical values are named Typical… and marked as common practice, so that a caller can show them as guesses.
//
// Losses follow one curve for all converters, P0 + aP + bP² (see Loss). Voltages at a device are the voltages at its own terminals;
// cables belong to the caller, but for the charge line, where a constant-power unit and its cable have to be solved together.
//
// Left out: transients below a second, waveforms, harmonics and reactive power (volt-amperes of unlike loads are added, which errs on
// the safe side), heat inside the cases, and the array's own curve, which is package pv's: a controller is told what the array could
// give and at which voltage. Rules and verdicts are not made here either.
//
// Numbers come from published efficiency models and manuals cited beside each formula; where only trade practice exists it is marked
// "common practice, no source".
package convert
