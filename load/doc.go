// Package load models what appliances take: a day's schedule with its duty, and appliances whose running time follows temperature -
// refrigerators, furnace, water heater, air conditioner. It answers in mean power over the steps of a day, and in running shares that say
// how much propane goes with them.
//
// Schedules are exact: each step holds the share of it that is scheduled, so the energy of a day does not depend on the step.
// Temperature-driven appliances follow the outside air of the moment; the heat stored in boxes, tanks and walls, which shifts their
// running by an hour or so, is left out, since it hardly moves a day's energy.
//
// What powers an appliance (DC, inverter, shore, propane) and what the inverter adds is for its caller: this package knows watts.
//
// Handbook ranges and trade practice are marked where they stand; a figure without mark is arithmetic.
package load
