// Package examples holds the demo rigs, so that the program has one to show without a file.
package examples

import _ "embed"

// Demo is the rig that the page opens on when none is named.
//
//go:embed desert-trailer.yaml
var Demo []byte

// CoastalCamper, FifthWheel and NorthernVan are the other rigs that can be opened without a file.
var (
	//go:embed coastal-camper.yaml
	CoastalCamper []byte
	//go:embed fifth-wheel.yaml
	FifthWheel []byte
	//go:embed northern-van.yaml
	NorthernVan []byte
)
