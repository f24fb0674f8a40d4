// Package rules holds all rules, one room for each, and the registry made from the names of the rooms. A room has its record and function in
// rule.go and in testdata rigs that break the rule, keep it, and lie just inside and just outside its limit; the tests of this package hold
// every room to them.
package rules

import (
	"campwright/check"
	"campwright/rig"
	"campwright/system"
)

// Judge runs all rules on a case.
func Judge(c check.Case) check.Report { return check.Judge(c, All()) }

// Check prepares a document with the climate inside the program and runs all rules on it.
func Check(doc rig.Rig) (check.Case, check.Report, error) {
	c, err := check.Prepare(doc, system.FindClimate)
	if err != nil {
		return check.Case{}, check.Report{}, err
	}
	return c, Judge(c), nil
}

// Find returns the rule of an id, such as "M03".
func Find(id string) (check.Rule, bool) {
	for _, r := range All() {
		if r.ID == id {
			return r, true
		}
	}
	return check.Rule{}, false
}
