// Package climate tells what weather to expect at a place on land, offline, and makes up years of it that are as bad, as often, as the
// real ones.
//
// [At] looks a place up in the climatology inside the program: monthly clearness of the sky and temperature, extremes, and how sure
// they are. [New] makes a generator for one place: [Generator.Days] gives the days of one made-up year ("member") between any two
// dates, the same days whatever range is asked for. [Sky] holds the sun's part of one date, shared by all members, and [Sky.Fill]
// turns a day into columns of light and air temperature. [Horizon] and [Shade] take away what hills and trees keep from a camp.
//
// Where the numbers come from. Light: means of satellite-era reanalysis on 3 degrees, its year brought to the level of a second source
// on 0.5 degrees, then drawn towards published monthly means of stations. Temperature: monthly maps on 0.75 degrees. The text of
// [Attribution] names them. The days follow [BENDT] in spread and [GRAHAM] in persistence, and are held against counts of bad spells
// in measured years; the hours follow [AGUIAR] and [ERBS]. doc/climate.md tells how well all this fits, with the commands.
//
// Left out, and to be said where it matters: hollows that gather cold air (5 to 10 K below the map on still nights), smoke, low cloud
// that hugs a coast, canyon walls unless given as a horizon, snow lying on modules, and any link between the weather of two places
// more than a few hundred kilometres apart. A flicker of broken cloud shorter than the step is averaged out. Wind is not known: 1.5 m/s
// is given and marked a guess. North of 72 N, at sea and on small islands far from land there is no climatology, and an error says so.
package climate
