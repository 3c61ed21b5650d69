package cutplan

import (
	"fmt"
	"math"
	"strconv"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Check finds what makes a job impossible, all of it at once, as a fault of kind Invalid whose fields are
// paths such as "pieces[2].count". That a piece fits no sheet for its curves alone, or that limits run out,
// only planning shows.
func (j Job) Check() error {
	var l fault.List
	if len(j.Pieces) == 0 {
		l.Add("pieces", "", "There is nothing to lay out. Add a piece.")
	}
	if len(j.Sheets) == 0 {
		l.Add("sheets", "", "There is no sheet to cut from. Add a sheet of this foam.")
	}
	most(&l, "pieces", len(j.Pieces), MaxPieces, "kinds of piece")
	most(&l, "sheets", len(j.Sheets), MaxSheets, "kinds of sheet")
	length(&l, "spacing", j.Spacing, 0, "The spacing")
	length(&l, "margin", j.Margin, 0, "The margin")
	for _, k := range []float64{j.Keep.MinSide, j.Keep.MinArea, j.Keep.StripWidth, j.Keep.StripLength} {
		if !(k >= 0 && k <= farthest*farthest) {
			l.Add("keep", text(k), "A least side or area of kept offcuts is a number from 0 upwards.")
		}
	}
	if j.CreditShare < 0 || j.CreditShare > 1000 {
		l.Add("credit_share", strconv.Itoa(j.CreditShare), "The worth of kept offcuts is from 0 to 1000 per mille of a new sheet.")
	}
	if !l.Empty() {
		return l.Err()
	}
	for i, s := range j.Sheets {
		j.sheet(&l, fmt.Sprintf("sheets[%d]", i), s)
	}
	copies := 0
	for i, p := range j.Pieces {
		field := fmt.Sprintf("pieces[%d]", i)
		if p.Count < 1 || p.Count > MaxCopies {
			l.Add(field+".count", strconv.Itoa(p.Count), fmt.Sprintf("A piece is cut once to %d times.", MaxCopies))
			continue
		}
		copies += p.Count
		for _, t := range p.Turns {
			if !(math.Abs(t) <= 3600) {
				l.Add(field+".turns", text(t), "A turn is a number of degrees.")
			}
		}
		if p.Turns != nil && len(p.Turns) == 0 {
			l.Add(field+".turns", "", "No turn is allowed at all. Name at least one, or leave it out for any.")
		}
		outline(&l, field, p.Shape)
		if p.On != nil && (p.On.Sheet < 0 || p.On.Sheet >= len(j.Sheets)) {
			l.Add(field+".on.sheet", strconv.Itoa(p.On.Sheet), "The panel lies on a sheet that is not in the job.")
		}
		if p.On != nil && !(math.Abs(p.On.Turn) <= 3600 && math.Abs(p.On.At.X) <= farthest && math.Abs(p.On.At.Y) <= farthest) {
			l.Add(field+".on", "", "The panel's turn and place are no numbers within 100 m.")
		}
	}
	most(&l, "pieces", copies, MaxCopies, "pieces to cut")
	return l.Err()
}

func (j Job) sheet(l *fault.List, field string, s Sheet) {
	if s.Weight < 0 || s.Weight > MaxWeight {
		l.Add(field+".weight", strconv.FormatInt(s.Weight, 10), fmt.Sprintf("What a sheet costs is a weight from 0 to %d.", MaxWeight))
	}
	if s.Limit < 0 {
		l.Add(field+".limit", strconv.Itoa(s.Limit), "The number of sheets at hand is 0 for no limit, or more.")
	}
	if len(s.Shape.Outer) > 0 {
		if !outline(l, field, s.Shape) {
			return
		}
	} else if !length(l, field+".width", s.Width, 1e-3, "The width of a sheet") || !length(l, field+".height", s.Height, 1e-3, "The height of a sheet") {
		return
	}
	box := s.outline().Outer.Bounds()
	if box.Width() <= 2*j.Margin || box.Height() <= 2*j.Margin {
		l.Add(field, size(box), fmt.Sprintf("“%s” is no wider than its two margins of %s mm. Use a larger sheet or a smaller margin.", s.Label, text(j.Margin)))
	}
}

// outline notes what is wrong with a shape: too many corners, no numbers, no area, crossing itself.
func outline(l *fault.List, field string, s geom.Shape) bool {
	corners, field := len(s.Outer), field+".shape"
	for _, h := range s.Holes {
		corners += len(h)
	}
	if corners > MaxCorners {
		l.Add(field, strconv.Itoa(corners), fmt.Sprintf("An outline has at most %d corners. Draw it with fewer.", MaxCorners))
		return false
	}
	if err := (geom.Region{s}).Check(); err != nil {
		_ = l.Take(field, err) // a region's check gives nothing but faults
		return false
	}
	if _, nested := cut(rings(s)); !nested {
		l.Add(field, "", "A hole lies outside the outline or in another hole. Draw holes inside, side by side.")
		return false
	}
	return true
}

func most(l *fault.List, field string, n, limit int, what string) {
	if n > limit {
		l.Add(field, strconv.Itoa(n), fmt.Sprintf("A job has at most %d %s. Split it.", limit, what))
	}
}

func length(l *fault.List, field string, mm, least float64, what string) bool {
	if mm >= least && mm <= farthest {
		return true
	}
	remedy := " is a number of mm from 0 up to 100 m."
	if least > 0 {
		remedy = " is a number of mm above 0, up to 100 m."
	}
	l.Add(field, text(mm), what+remedy)
	return false
}

// text is a number as a person writes it, to a tenth.
func text(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

// size is width by height in mm.
func size(b geom.Rect) string { return text(b.Width()) + " × " + text(b.Height()) + " mm" }
