// Package gas models propane: what cylinders and tanks hold, how long that lasts, and how fast cold propane can leave a container as
// vapour. Heat is in Wh and W, mass in kg, as everywhere in the program; the constants keep the trade's units they were published in.
//
// Generator fuels other than propane are not here. Appliances' burning is computed by whoever knows them; here it is a heat rate.
//
// Sources: property sheets and cylinder data [PROPANE], a vaporisation chart for one cylinder size [PROPANE-VAPOR]; other sizes are
// scaled from it by wetted area and are good to 30 %, no better.
package gas
