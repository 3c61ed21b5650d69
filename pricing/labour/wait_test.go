package labour_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
)

// The wait of filling is that of the filler; without a word on it, that of the table. 3, 24 and 48 h: common practice, no
// source.
func TestWaitOfTheFiller(t *testing.T) {
	for hours, want := range map[string]string{"0": "3", "24": "24", "48": "48", "0.25": "0.25"} {
		drivers := takeoff.Drivers{takeoff.JointM: counted(decimal.NewFromInt(1)), takeoff.FillerHours: counted(decimal.RequireFromString(hours))}
		for _, l := range labour.Plan(seed(t), drivers, 1, decimal.Zero, labour.Learning{}).Lines {
			if l.Step.Code == "sand-filler" || !l.Wait.Equal(decimal.RequireFromString(want)) {
				t.Errorf("%s h: %s waits %s h", hours, l.Step.Code, l.Wait)
			}
		}
	}
}
