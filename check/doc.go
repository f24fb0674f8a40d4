// Package check judges a rig by rules: "Is it safe?". A rule is a record (package rules holds one room for each) with a function that gets
// a prepared case and returns outcomes: findings, passes with their margin, and questions it cannot decide without a reading.
//
// [Prepare] fills the document's defaults, assembles its models and looks up the extremes of every place on the route and at home. [Judge] runs
// rules on such a case. Rules hold no physics: they call the science packages, and show the inequality they judged by with the rig's own
// figures in it. Every guess is taken at its bad end. What passes at one end of a guess and fails at the other is undecided, and the outcome
// names the reading that would settle it; a value that the owner marks as unknown never passes.
//
// Left out: whatever needs a simulation (package trip says how long stores last), wiring of the battery side (a later room), and whatever no
// file can tell, such as a loose lug: doc/rules.md lists those cases with the reason.
//
// Where the rules come from: standards by clause as named in doc/SOURCES.md, and the practice of the trade, marked so.
package check

//go:generate go run ../tools/newrule
//go:generate go run ../tools/newrule/ruledoc ../doc/rules.md
