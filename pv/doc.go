// Package pv computes what photovoltaic modules give: the curve of a module from the figures on its sheet, its cell temperature, arrays of
// modules in series and parallel, the same arrays under partial shade, and a table for loops that must be fast.
//
// The usual order of use: Fit turns a Datasheet into a Module; Module.At gives the Curve for an irradiance and a cell temperature;
// Curve.MaxPower is what a perfect controller takes from it. PowerColumn does the last two for a column of steps without allocating.
// Array joins equal modules into one Curve. Combine adds the curves of unlike or unequally lit parts, with their bypass diodes.
//
// The model is the single diode with the five parameters of De Soto, Klein and Beckman (2006). Irradiance is the effective one: in the plane,
// after shade, dirt and the loss by slanting light, none of which belongs here (package sun has the geometry). Nothing here corrects the
// model in secret. Two things a user should know of it: at low light it gives too much, as measured on ten crystalline modules +1 to +12 % at
// 200 W/m², and 0.5 to 1.7 % of rated power is its usual error over 15 to 65 °C and 100 to 1,100 W/m²; and the figures of a sheet carry the
// maker's tolerance, which no model removes.
//
// Left out: spectrum, ageing and dirt (factors that the caller applies), the thermal mass of a module (steps under ten minutes see a module
// lag behind the sun), and the reverse breakdown of cells except where Unit.Reverse asks for it, because a substring with its bypass diode
// never gets there.
//
// Numbers come from the cited sources, each named at its use. Units are volt, ampere, watt, ohm, W/m², °C, m/s and kelvin.
package pv
