// Package conductor answers what a copper cable can bear and what it costs: its section and resistance at temperature, the current a
// chosen book of rules lets it carry in its surroundings, the largest fuse that book lets stand before it, how far from the source the
// first fuse may be, which fuse can interrupt which fault, and the smallest standard size that does a job.
//
// A book of rules (Book) is a named bundle of tables, one for each side of a rig: mains, battery, photovoltaic, vehicle. The same
// cable passes one book and fails another, so every answer names the book that spoke: each figure carries an Origin with its source and a
// Mark that says whether a public copy of the standard was seen, whether the figure is from memory of it ("check the current
// edition"), or whether it is common practice without a source.
//
// Left out, and why: aluminium (no rig is wired in it), conductors laid in parallel (each book sets its own conditions for them), the
// heating time of a conductor under a fault (the fuse families here have no melting curves), and inductance (steady direct current; the
// error at 60 Hz on sections up to 4/0 AWG over rig lengths is under 2 %).
//
// The package is pure: it knows no rig and no file. Ampacities, factors and ratings are plain facts of the named standards.
package conductor
