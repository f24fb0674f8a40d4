// Package place finds camps and towns by name, offline, and tells the time zone of any point.
package place
