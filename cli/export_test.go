package cli

import "flag"

// updateGolden rewrites goldens. The scripts, which stand outside the package, use it as UpdateGolden.
var updateGolden = flag.Bool("update", false, "rewrite the goldens")

// UpdateGolden is updateGolden for the scripts.
var UpdateGolden = updateGolden
