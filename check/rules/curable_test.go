package rules_test

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/tools/newrule/room"
)

// TestCurable: where one edit can mend a finding it is offered, the least first. Check.Cures judges every cure that it returns, the whole rig anew.
func TestCurable(t *testing.T) {
	for path, first := range map[string]string{
		"m34/testdata/bad-1.yaml": "move main fuse to the post",
		"m33/testdata/bad-1.yaml": "put a fuse of class T at the post of each block",
		"m06/testdata/bad-1.yaml": "give each string of",
		"m38/testdata/bad-1.yaml": "take ",
		"m67/testdata/bad-2.yaml": "",
	} {
		c := room.Open(t, path)
		id := strings.ToUpper(path[:3])
		found := 0
		for _, o := range check.Judge(c, rules.All()).Outcomes {
			if o.Rule != id || o.Verdict < check.Fail {
				continue
			}
			found++
			list := check.Cures(c, o, rules.All())
			if len(list) == 0 || !strings.HasPrefix(list[0].Words, first) {
				t.Errorf("%s: cures of %s are %+v, wanted first %q", path, o.Title, list, first)
			}
		}
		if found == 0 {
			t.Errorf("%s: no finding of %s", path, id)
		}
	}
}
