// Package examples holds the demo rigs, so that the program has one to show without a file.
package examples

import _ "embed"

// Demo is the rig that the page opens on when none is named.
//
//go:embed desert-trailer.yaml
var Demo []byte
