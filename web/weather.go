package web

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"

	"campwright/rig"
	"campwright/sun"
	"campwright/trip"
	"campwright/weather"

	"github.com/danielgtaylor/huma/v2"
)

// WeatherFile is a year of weather that the page may choose.
type WeatherFile struct {
	Name string // as the page shows and asks for it
	Path string // of the file; empty for the invented year inside the program
}

// invented is the name of the year inside the program.
const invented = "invented"

// WeatherView is the list of weathers to choose from.
type WeatherView struct {
	Choices []WeatherChoice `json:"choices" nullable:"false"`
}

// WeatherChoice is one weather.
type WeatherChoice struct {
	Name string `json:"name"` // to ask for it
	Text string `json:"text"` // for people
}

type weatherOutput struct{ Body WeatherView }

func (s *Server) weatherOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "weather", Method: http.MethodGet, Path: "/api/weather", Summary: "Which weather can be used?",
	}, func(context.Context, *struct{}) (*weatherOutput, error) {
		v := WeatherView{Choices: []WeatherChoice{{"", "many years as they may come, at the places of the trip"}}}
		for _, f := range s.options.Weather {
			v.Choices = append(v.Choices, WeatherChoice{f.Name, "the year of " + f.Name})
		}
		v.Choices = append(v.Choices, WeatherChoice{invented, "an invented year, of no real place"})
		return &weatherOutput{v}, nil
	})
}

// yearAnswer answers for one year of weather: the one asked for, or the invented one.
func yearAnswer(files []WeatherFile) TripAnswer {
	return func(ctx context.Context, full rig.Rig, ask TripAsk) (trip.Answer, error) {
		year, err := readYear(files, ask.Weather)
		if err != nil {
			return trip.Answer{}, err
		}
		cols, err := year.Columns(ask.StepMin)
		if err != nil {
			return trip.Answer{}, refused{err}
		}
		site := year.Site
		here := sun.Place{Latitude: site.Latitude, Longitude: site.Longitude, Elevation: site.ElevationM}
		plan, err := trip.NewPlan(full, func(p rig.Place) (trip.Spot, error) {
			spot, err := trip.Locate(p)
			if err != nil { // a camp of a name that nobody knows is taken to be where the weather is from
				return trip.Spot{Name: p.Name, Place: here, Zone: cols.Start.Location()}, nil
			}
			return spot, nil
		})
		if err != nil {
			return trip.Answer{}, refused{err}
		}
		answer, err := trip.Single(plan, trip.Year{
			Words: site.Name + ", " + string(year.Format) + ": " + year.Label, Start: cols.Start, StepMin: ask.StepMin, Site: here, LeapDay: year.LeapDay,
			Weather: trip.Weather{GHI: cols.GHI, DNI: cols.DNI, DHI: cols.DHI, AirC: cols.AirC, WindMS: cols.WindMS},
		}, ask.StepMin)
		if err != nil {
			return trip.Answer{}, refused{err}
		}
		return answer, nil
	}
}

// readYear reads the year of a name. Only files that the program was started with can be named: a path in a request is not followed.
func readYear(files []WeatherFile, name string) (weather.Year, error) {
	if name == "" || name == invented {
		return weather.Invented(), nil
	}
	for _, f := range files {
		if f.Name != name {
			continue
		}
		h, err := os.Open(f.Path)
		if err != nil {
			return weather.Year{}, err
		}
		defer h.Close()
		year, err := weather.Read(h, filepath.Base(f.Path))
		if err != nil {
			return weather.Year{}, refused{fmt.Errorf("weather file %s: %w", f.Name, err)}
		}
		return year, nil
	}
	return weather.Year{}, refused{fmt.Errorf("no weather of the name %q", name)}
}
