package web

import (
	"context"
	"math"
	"net/http"
	"time"

	"campwright/quantity"
	"campwright/trip"

	"github.com/danielgtaylor/huma/v2"
)

// Curve is a stretch of the stay, thinned to what a screen can show: each point stands for a bucket of time and holds the lowest and
// the highest value in it, so that nothing short is lost. All columns are of equal length.
type Curve struct {
	From       float64   `json:"from"`                        // [d] from arrival, begin of the first bucket
	Bucket     float64   `json:"bucket"`                      // [d] length of a bucket
	Step       string    `json:"step"`                        // the same in words
	Low        []float64 `json:"low" nullable:"false"`        // [%] charge, typical run
	High       []float64 `json:"high" nullable:"false"`       // [%]
	AllLow     []float64 `json:"allLow" nullable:"false"`     // [%] nine runs in ten; empty for one year of weather
	AllHigh    []float64 `json:"allHigh" nullable:"false"`    // [%]
	AllCharge  []string  `json:"allCharge" nullable:"false"`  // the same in words
	Poor       []float64 `json:"poor" nullable:"false"`       // [%] lowest charge in the bucket in a poor run, worse than nine in ten, to be drawn as a second line; empty where the answer has none
	PoorCharge []string  `json:"poorCharge" nullable:"false"` // the same in words
	When       []string  `json:"when" nullable:"false"`       // local clock, in words
	Charge     []string  `json:"charge" nullable:"false"`     // in words
	Solar      []string  `json:"solar" nullable:"false"`      // mean over the bucket, in words
	Load       []string  `json:"load" nullable:"false"`
	Volts      []string  `json:"volts" nullable:"false"` // lowest and highest in the bucket, in words
}

type traceInput struct {
	TripInput
	From float64 `query:"from" minimum:"0" maximum:"1200" doc:"first day wanted, from arrival"`
	Days float64 `query:"days" minimum:"0.05" maximum:"1200" default:"1200" doc:"how many days"`
}

type traceOutput struct{ Body Curve }

func (s *Server) traceOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "trace", Method: http.MethodGet, Path: "/api/trip/trace", Summary: "A closer look at the bank over part of the stay",
		Errors: []int{404, 422, 500},
	}, func(ctx context.Context, in *traceInput) (*traceOutput, error) {
		if math.IsNaN(in.From) || math.IsNaN(in.Days) {
			return nil, huma.Error422UnprocessableEntity("from and days: not a number")
		}
		_, a, err := s.answer(ctx, &in.TripInput)
		if err != nil {
			return nil, s.fail("trace", err)
		}
		if a == nil {
			return &traceOutput{emptyCurve()}, nil
		}
		return &traceOutput{curve(a, in.From, in.Days)}, nil
	})
}

func emptyCurve() Curve {
	return Curve{Low: []float64{}, High: []float64{}, AllLow: []float64{}, AllHigh: []float64{}, AllCharge: []string{}, Poor: []float64{}, PoorCharge: []string{}, When: []string{}, Charge: []string{}, Solar: []string{}, Load: []string{}, Volts: []string{}}
}

// mostPoints is about as many buckets as a screen has room for.
const mostPoints = 800

// buckets are the lengths of a bucket to choose from [min]. The finest that keeps to mostPoints is taken.
var buckets = []int{1, 2, 5, 10, 15, 20, 30, 60, 120, 180, 240, 360, 720, 1440, 2880, 10080}

// curve thins a stretch of an answer's trace.
func curve(a *trip.Answer, from, days float64) Curve {
	t := a.Trace
	c := emptyCurve()
	if len(t.SoC) == 0 || t.StepMin < 1 {
		return c
	}
	perDay := 1440 / float64(t.StepMin)
	first := min(max(int(from*perDay), 0), len(t.SoC)-1)
	last := min(max(int(math.Ceil((from+days)*perDay)), first+1), len(t.SoC))
	size := 1
	for _, b := range buckets {
		if b%t.StepMin == 0 {
			if size = b / t.StepMin; (last-first)/size <= mostPoints {
				break
			}
		}
	}
	first -= first % size
	zone, err := time.LoadLocation(t.Zone)
	if err != nil {
		zone = t.Start.Location()
	}
	c.From, c.Bucket = float64(first)/perDay, float64(size)/perDay
	c.Step = of(float64(size*t.StepMin)/60, quantity.Duration).US
	for i := first; i < last; i += size {
		end := min(i+size, last)
		low, high := ends(t.SoC[i:end])
		c.Low, c.High = append(c.Low, percent(low)), append(c.High, percent(high))
		c.Charge = append(c.Charge, joined(wholePercent(low), wholePercent(high)))
		if len(t.Low) == len(t.SoC) && len(t.High) == len(t.SoC) {
			bottom, _ := ends(t.Low[i:end])
			_, top := ends(t.High[i:end])
			c.AllLow, c.AllHigh = append(c.AllLow, percent(bottom)), append(c.AllHigh, percent(top))
			c.AllCharge = append(c.AllCharge, joined(wholePercent(bottom), wholePercent(top)))
		}
		if a.Poor != nil && len(a.Poor.Trace.SoC) == len(t.SoC) {
			low, high := ends(a.Poor.Trace.SoC[i:end])
			c.Poor, c.PoorCharge = append(c.Poor, percent(low)), append(c.PoorCharge, joined(wholePercent(low), wholePercent(high)))
		}
		at := t.Start.Add(time.Duration(i*t.StepMin) * time.Minute).In(zone)
		layout := "Mon 2 Jan 15:04"
		if size*t.StepMin >= 1440 {
			layout = "Mon 2 Jan"
		}
		c.When = append(c.When, at.Format(layout))
		c.Solar = append(c.Solar, watts(t.SolarW, i, end))
		c.Load = append(c.Load, watts(t.LoadW, i, end))
		if len(t.Volts) == len(t.SoC) {
			l, h := ends(t.Volts[i:end])
			c.Volts = append(c.Volts, joined(volts(l), volts(h)))
		}
	}
	return c
}

// ends returns the lowest and the highest of at least one value.
func ends(values []float32) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		low, high = min(low, float64(v)), max(high, float64(v))
	}
	return low, high
}

// watts writes the mean of a bucket; empty where the trace has no such column.
func watts(column []float32, from, to int) string {
	if to > len(column) {
		return ""
	}
	sum := 0.0
	for _, v := range column[from:to] {
		sum += float64(v)
	}
	return quantity.In(quantity.Quantity{Base: math.Round(sum / float64(to-from)), Kind: quantity.Power}, "W")
}

func volts(v float64) string {
	return quantity.In(quantity.Quantity{Base: math.Round(v*10) / 10, Kind: quantity.Voltage}, "V")
}
