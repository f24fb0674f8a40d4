// Package sun tells where the sun stands and what its light does: position, rise and set, the light above the air, air mass, clear
// sky, the split of global light into beam and diffuse, the light on a tilted plane, and what the glass of a module turns away.
//
// Most callers need four things. [At] is the sun at one instant. [RiseSet] is one civil day. [Track] is a whole series of instants
// at one place, as columns, at a small part of the cost of as many calls of [At]. [Geometry.OnPlane] prepares a tilted plane on such a track, and
// [PlaneGeometry.Transpose] turns a column of weather into light on that plane.
//
// Left out: the seconds between civil time and the turning Earth (UTC stands for UT1, at most 0.9 s or 0.004 degrees), the height of
// the horizon (a canyon wall or a hill is the roof's and the trip's matter), spectral effects, and snow. Clouds come from elsewhere:
// this package knows weather only as columns it is given.
//
// Where the numbers come from: the position is the published algorithm of [SPA] written from its tables; the models of light are the
// published ones named beside each function. All angles are in degrees unless a name says otherwise; latitude north and longitude
// east are positive, azimuth runs clockwise from true north, tilt is from the horizontal.
package sun
