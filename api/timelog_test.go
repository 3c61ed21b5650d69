package api_test

import (
	"fmt"
	"testing"

	"foamwright/api"
	"foamwright/pricing/people"
)

// logsTime logs on an order as a phone does: sent twice it is there once, and a correction stands in its place.
func (s *shop) logsTime(order string) {
	s.t.Helper()
	at := "/orders/" + order + "/time"
	body := `{"id": "0B1F9C5E-6d0a-4c55-9d0e-111111111111", "step": "edge", "minutes": "25.5", "day": "2026-03-04", "written": "2026-03-04T15:10:00+01:00", "note": "with Bram"}`
	var one, again, fix api.TimeLog
	s.as(people.Helper, "POST", at, body).want(200, &one)
	s.as(people.Helper, "POST", at, body).want(200, &again)
	if one.ID != "0b1f9c5e-6d0a-4c55-9d0e-111111111111" || one.By != "The helper" || one.Written.Hour() != 14 || again.ID != one.ID {
		s.t.Errorf("%+v, again %+v", one, again)
	}
	s.owner("POST", at, fmt.Sprintf(`{"step": "edge", "minutes": "35", "day": "2026-03-04", "rework": "lifted at the point", "corrects": %q}`, one.ID)).want(200, &fix)
	s.owner("POST", at, fmt.Sprintf(`{"step": "edge", "minutes": "45", "day": "2026-03-04", "corrects": %q}`, one.ID)).problem(409)
	var all struct{ Logs []api.TimeLog }
	s.as(people.Helper, "GET", at, "").want(200, &all)
	if len(all.Logs) != 2 || !all.Logs[0].Corrected || all.Logs[1].Corrected || all.Logs[1].Rework != "lifted at the point" || all.Logs[1].Corrects != one.ID {
		s.t.Errorf("%+v", all.Logs)
	}
	for _, bad := range []struct{ body, says string }{
		{`{"step": "edge", "minutes": "0", "day": "2026-03-04"}`, "minutes: Write the minutes"},
		{`{"step": "edge", "minutes": "1441", "day": "2026-03-04"}`, "minutes: Write the minutes"},
		{`{"step": "edge", "minutes": "NaN", "day": "2026-03-04"}`, "minutes: Write a number"},
		{`{"step": "edge", "minutes": "5", "day": "yesterday"}`, "day: Write a day as"},
		{`{"step": "edge", "minutes": "5", "day": "2026-03-09"}`, "day: That day has not come yet"},
		{`{"step": "", "minutes": "5", "day": "2026-03-04"}`, "step: Choose what"},
		{`{"id": "7", "step": "edge", "minutes": "5", "day": "2026-03-04"}`, "id: This is no id"},
		{`{"step": "edge", "minutes": "5", "day": "2026-03-04", "written": "soon"}`, "written: Write the time like"},
		{`{"step": "edge", "minutes": "5", "day": "2026-03-04", "corrects": "` + nothing + `"}`, "corrects: There is no such log"},
	} {
		if got := first(s.as(people.Helper, "POST", at, bad.body).problem(422)); len(got) < len(bad.says) || got[:len(bad.says)] != bad.says {
			s.t.Errorf("%s: %s", bad.body, got)
		}
	}
}

func TestTimeOfNoOrder(t *testing.T) {
	s := open(t, api.MaxBody)
	for _, id := range []string{nothing, never} {
		s.owner("GET", "/orders/"+id+"/time", "").problem(404)
		s.owner("POST", "/orders/"+id+"/time", `{"step": "edge", "minutes": "5", "day": "2026-03-04"}`).problem(404)
	}
}
