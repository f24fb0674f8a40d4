package weather

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
)

// Invented files of each format, a whole year each, written from the invented year. They are for tests of reading only.

// sample is what a writer needs of one record, with free hand to spoil it.
type sample struct {
	year, month, day, hour int // hour 0 to 23: start of the record
	minute                 int
	ghi, dni, dhi, air, ms float64
}

// invented is the invented year, read once.
var invented = sync.OnceValue(Invented)

// samples returns the invented year as hourly samples; year tells the source year of each month.
func samples(year func(month int) int) []sample {
	y := invented()
	out := make([]sample, len(y.Records))
	for i, r := range y.Records {
		out[i] = sample{year(int(r.Start.Month())), int(r.Start.Month()), r.Start.Day(), r.Start.Hour(), 0, r.GHI, r.DNI, r.DHI, r.AirC, r.WindMS}
	}
	return out
}

func stitched(month int) int { return 1990 + (month*7)%12 }
func in2017(int) int         { return 2017 }

func writeEPW(s []sample, perHour int) string {
	var b strings.Builder
	b.WriteString("LOCATION,Invented Plateau,XX,ZZZ,MADE-UP,000000,39.10,-111.20,-7.0,1900.0\n")
	b.WriteString("DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,invented\nCOMMENTS 2,invented\n")
	fmt.Fprintf(&b, "DATA PERIODS,1,%d,Data,Sunday, 1/ 1,12/31\n", perHour)
	for _, r := range s {
		for k := range perHour {
			fmt.Fprintf(&b, "%d,%d,%d,%d,%d,?9?9,%g,0,50,80000,0,0,300,%g,%g,%g,0,0,0,0,180,%g,5,5,16.1,77777,9,999999999,60,0.05,0,88,0.2,0.0,1.0\n",
				r.year, r.month, r.day, r.hour+1, (k+1)*60/perHour%60, r.air, r.ghi, r.dni, r.dhi, r.ms)
		}
	}
	return b.String()
}

func writeTMY3(s []sample) string {
	var b strings.Builder
	b.WriteString("000000,\"INVENTED PLATEAU, NOWHERE\",XX,-7.0,39.100,-111.200,1900\n")
	b.WriteString("Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),GHI source,DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),Wspd (m/s)\n")
	for _, r := range s {
		fmt.Fprintf(&b, "%02d/%02d/%d,%02d:00,0,%g,1,%g,%g,%g,%g\n", r.month, r.day, r.year, r.hour+1, r.ghi, r.dni, r.dhi, r.air, r.ms)
	}
	return b.String()
}

func writeTMY2(s []sample) string {
	var b strings.Builder
	b.WriteString(" 00000 INVENTED PLATEAU       XX  -7 N 39  6 W 111 12  1900\n")
	for _, r := range s {
		fmt.Fprintf(&b, " %02d%02d%02d%02d00000000%04.0f?0%04.0f?0%04.0f?00000?00000?00000?00000?005A705A7%04.0fA70000A7050A70800A7180A7%03.0fA70161A777777A70999999999010F8060F8000A788E7\n",
			r.year%100, r.month, r.day, r.hour+1, r.ghi, r.dni, r.dhi, r.air*10, r.ms*10)
	}
	return b.String()
}

// writePSM writes stamps at the given minute past the start of each step of 60/perHour minutes.
func writePSM(s []sample, perHour, stamp int, zone float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Source,Location ID,City,State,Country,Latitude,Longitude,Time Zone,Elevation,Local Time Zone,GHI Units,Version\nNSRDB,1,-,-,-,39.10,-111.20,%g,1900,-7,w/m2,3.0\n", zone)
	b.WriteString("Year,Month,Day,Hour,Minute,DHI,DNI,GHI,Wind Speed,Temperature,Pressure,,\n")
	for _, r := range s {
		for k := range perHour {
			fmt.Fprintf(&b, "%d,%d,%d,%d,%d,%g,%g,%g,%g,%g,800,,\n", r.year, r.month, r.day, r.hour, k*60/perHour+stamp, r.dhi, r.dni, r.ghi, r.ms, r.air)
		}
	}
	return b.String()
}

func writeJRC(s []sample, offset string) string {
	var b strings.Builder
	b.WriteString("Latitude (decimal degrees): 39.100\r\nLongitude (decimal degrees): -111.200\r\nElevation (m): 1900.0\r\n")
	if offset != "" {
		b.WriteString("Irradiance Time Offset (h): " + offset + "\r\n")
	}
	b.WriteString("month,year\r\n")
	for m := 1; m <= 12; m++ {
		fmt.Fprintf(&b, "%d,%d\r\n", m, stitched(m))
	}
	b.WriteString("time(UTC),T2m,RH,G(h),Gb(n),Gd(h),IR(h),WS10m,WD10m,SP\r\n")
	for _, r := range s {
		fmt.Fprintf(&b, "%d%02d%02d:%02d00,%g,50,%g,%g,%g,300,%g,180,80000\r\n", r.year, r.month, r.day, r.hour, r.air, r.ghi, r.dni, r.dhi, r.ms)
	}
	b.WriteString("\r\nT2m: air temperature\r\nG(h): global irradiance\r\n")
	return b.String()
}

func writeTable(s []sample, offsetH float64) string {
	var b strings.Builder
	b.WriteString("interval_start_local,duration_h,sun_time_utc,ghi_w_m2,dni_w_m2,dhi_w_m2,air_temp_c,wind_m_s\n")
	for _, r := range s {
		start := time.Date(r.year, time.Month(r.month), r.day, r.hour, 0, 0, 0, time.UTC)
		mid := start.Add(30*time.Minute - time.Duration(offsetH*float64(time.Hour)))
		fmt.Fprintf(&b, "%s,1.0,%s,%g,%g,%g,%g,%g\n", start.Format("2006-01-02T15:04:05"), mid.Format("2006-01-02T15:04:05.000Z"), r.ghi, r.dni, r.dhi, r.air, r.ms)
	}
	return b.String()
}

// mustRead reads a text that has to be in order.
func mustRead(t testing.TB, text string) Year {
	t.Helper()
	y, err := read(strings.NewReader(text), "invented", &InventedSite)
	if err != nil {
		t.Fatal(err)
	}
	return y
}
