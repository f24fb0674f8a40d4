// Package arrows guards the shape of the house: which package may import which. The table in its test is the whole truth; an arrow
// that is not in it fails the build.
package arrows
