package place

import (
	"strings"
	"unicode"
)

// regionCodes are the usual short codes of regions whose codes in the gazetteer are not theirs.
var regionCodes = map[string]string{
	"CA.01": "AB", "CA.02": "BC", "CA.03": "MB", "CA.04": "NB", "CA.05": "NL", "CA.07": "NS", "CA.08": "ON", "CA.09": "PE", "CA.10": "QC",
	"CA.11": "SK", "CA.12": "YT", "CA.13": "NT", "CA.14": "NU",
	"AU.01": "ACT", "AU.02": "NSW", "AU.03": "NT", "AU.04": "QLD", "AU.05": "SA", "AU.06": "TAS", "AU.07": "VIC", "AU.08": "WA",
	"GB.ENG": "England", "GB.SCT": "Scotland", "GB.WLS": "Wales", "GB.NIR": "Northern Ireland",
}

// regionNames are the folds of the names of regions, and the code and country of each.
var regionNames = func() map[string][]region {
	m := map[string][]region{}
	for _, row := range []struct{ country, codes string }{
		{"US", "AL alabama,AK alaska,AZ arizona,AR arkansas,CA california,CO colorado,CT connecticut,DE delaware,DC district of columbia,FL florida,GA georgia," +
			"HI hawaii,ID idaho,IL illinois,IN indiana,IA iowa,KS kansas,KY kentucky,LA louisiana,ME maine,MD maryland,MA massachusetts,MI michigan,MN minnesota," +
			"MS mississippi,MO missouri,MT montana,NE nebraska,NV nevada,NH new hampshire,NJ new jersey,NM new mexico,NY new york,NC north carolina," +
			"ND north dakota,OH ohio,OK oklahoma,OR oregon,PA pennsylvania,RI rhode island,SC south carolina,SD south dakota,TN tennessee,TX texas,UT utah," +
			"VT vermont,VA virginia,WA washington,WV west virginia,WI wisconsin,WY wyoming"},
		{"CA", "AB alberta,BC british columbia,MB manitoba,NB new brunswick,NL newfoundland and labrador,NL newfoundland,NS nova scotia,ON ontario," +
			"PE prince edward island,QC quebec,SK saskatchewan,YT yukon,NT northwest territories,NU nunavut"},
		{"AU", "ACT australian capital territory,NSW new south wales,NT northern territory,QLD queensland,SA south australia,TAS tasmania,VIC victoria,WA western australia"},
		{"GB", "England england,Scotland scotland,Wales wales,Northern Ireland northern ireland"},
	} {
		for entry := range strings.SplitSeq(row.codes, ",") {
			at := strings.IndexFunc(entry, unicode.IsLower)
			if row.country == "GB" {
				at = len(entry)/2 + 1
			}
			code, name := entry[:at-1], entry[at:]
			r := region{row.country, code}
			m[name] = append(m[name], r)
			if fold := Fold(code); fold != name {
				m[fold] = append(m[fold], r)
			}
		}
	}
	return m
}()

// region is a part of a country by its short code; an empty code is the whole country.
type region struct {
	country, code string
}

// countryNames are other names of countries than those of the table, by their folds.
var countryNames = map[string]string{
	"usa": "US", "u s a": "US", "united states of america": "US", "america": "US", "uk": "GB", "great britain": "GB", "britain": "GB",
	"united kingdom": "GB", "deutschland": "DE", "espana": "ES", "italia": "IT", "holland": "NL", "norge": "NO", "sverige": "SE", "osterreich": "AT",
	"schweiz": "CH", "suisse": "CH", "eire": "IE", "czech republic": "CZ", "south korea": "KR", "russia": "RU",
}
