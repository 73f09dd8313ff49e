package beating

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Stage is a step that runs in batches: pots that cook, beaters that beat.
type Stage struct {
	Name      string
	Batches   measure.Loads
	Low, High measure.Hours // of one batch
	Machines  int           // that run side by side
}

// Span is how long a stage takes: the hours that its machines run in all, and
// the hours that pass.
type Span struct {
	Stage       string
	MachineLow  measure.Hours
	MachineHigh measure.Hours
	Low, High   measure.Hours
}

// mostStageHours is a day and a night and a day again: retting is no stage.
const mostStageHours = 3 * fibre.MostHours

// Bottleneck returns the span of each stage, and which of them holds up the
// others: the one that passes most hours.
//
//	passing = ⌈batches / machines⌉ · hours
//
// Contract:
//
//   - Quantity: machine-hours and passing hours by stage, h; the place of the slowest
//   - Inputs: batches, whole; hours of one, low and high, h; machines
//   - Valid: 1 to 10,000 batches; 0 to 72 h, low not over high; 1 to 100 machines; outside: fault.OutOfRange or Invalid
//   - Assumes: hands, nights and filling do not count; each stage runs by itself
//   - Error: exact for the hours given
//   - Source: derived; husk-page for the worked case
//   - Checked: four pots of husk, worked by hand; property: more machines never take longer
func Bottleneck(stages []Stage) (spans []Span, slowest int, err error) {
	if len(stages) == 0 {
		return nil, 0, fault.Invalid("stages", "name one stage or more")
	}
	for i, s := range stages {
		err := fault.First(
			measure.Inside("batches", "the number", s.Batches, 1, mostLoads, "batches"),
			measure.Inside("low", "the hours of a batch", s.Low, 0, mostStageHours, "h"),
			measure.Inside("high", "the hours of a batch", s.High, s.Low, mostStageHours, "h"),
			measure.Inside("machines", "the number", s.Machines, 1, 100, "machines"))
		if err != nil {
			return nil, 0, err
		}
		if s.Batches != measure.Loads(math.Trunc(float64(s.Batches))) {
			return nil, 0, fault.OutOfRange("batches", "the number of batches must be a whole number between 1 and %g", float64(mostLoads))
		}
		runs := measure.Hours(math.Ceil(float64(s.Batches) / float64(s.Machines)))
		all := measure.Hours(s.Batches)
		spans = append(spans, Span{s.Name, all * s.Low, all * s.High, runs * s.Low, runs * s.High})
		if spans[i].Low+spans[i].High > spans[slowest].Low+spans[slowest].High {
			slowest = i
		}
	}
	return spans, slowest, nil
}
