package demo

import "foamwright/pricing/sales"

// tale is a quote of the last half year and what came of it. Days are days ago; zero is never.
type tale struct {
	design, customer, pieces string
	words                    string // it came as an enquiry
	began, issued, again     int    // again: the day of its second version
	answered                 int
	why                      string // it was declined for
	made                     made
}

// made is what became of an order.
type made struct {
	deposit, done int
	pace          string // share of the planned minutes that it took
	spread        string // share of the planned liquids
	rework        string // what was done again, and
	again         int64  // the minutes of it
	settled       int    // the day the balance came, or what was too much went back
	credit        string // with tax, on the balance
	creditFor     string
	cancelled     int
	why           string // it was cancelled for
}

// others are customers that only the past knows.
func others() []sales.Customer {
	return []sales.Customer{
		{Name: "Tolva Reedmace", Email: "tolva@reedmace.example", Address: "Withy Bank\nHarrowmouth"},
		{Name: "Odo Sculler", Email: "odo@sculler.example", Address: "9 Eel Pie Quay\nHarrowmouth"},
		{Name: "Anneke Withy", Email: "anneke@withy.example", Address: "The Basket Loft\nWhite Fen"},
		{Name: "Saltstair Players", Email: "props@saltstair.example", Address: "1 Salt Stair\nHarrowmouth", Note: "A theatre: pays late, comes back."},
		{Name: "Corin Hask", Email: "corin@hask.example", Address: "Sluice Cottage\nHarrowmouth"},
	}
}

// tales are the quotes, oldest first.
func tales() []tale {
	const mara, jonas, ilse = "Mara Quist", "Jonas Adler", "Ilse of the White Fen"
	const tolva, odo, anneke, players, corin = "Tolva Reedmace", "Odo Sculler", "Anneke Withy", "Saltstair Players", "Corin Hask"
	const buckler, reed, heater, sedge, hive = "Ferry buckler", "Reed oval", "Tidewall heater", "Sedge oval", "Hive hexagon"
	return []tale{
		{design: reed, customer: mara, began: 184, issued: 183, answered: 180, made: made{deposit: 176, done: 160, pace: "1.18", spread: "1", settled: 148}},
		{design: heater, customer: tolva, began: 176, issued: 170, answered: 166, why: "Too dear"},
		{design: reed, customer: players, pieces: "3", began: 172, issued: 166, answered: 160, made: made{deposit: 155, done: 132, pace: "1.22", spread: "1", rework: "one face peeled and was primed again", again: 70, settled: 104}},
		{design: buckler, customer: odo, began: 154, issued: 149, answered: 146, made: made{deposit: 142, done: 118, pace: "0.92", spread: "0.95", settled: 106}},
		{design: reed, customer: corin, began: 126, issued: 123, answered: 118, made: made{deposit: 112, cancelled: 105, settled: 101, why: "The event was called off"}},
		{design: reed, customer: ilse, began: 112, issued: 110},
		{design: heater, customer: odo, began: 112, issued: 111, answered: 107, made: made{deposit: 102, done: 80, pace: "1.12", spread: "0.9", rework: "rim sprang open, glued again", again: 45, settled: 69}},
		{design: reed, customer: tolva, began: 94, issued: 93, answered: 90, made: made{deposit: 86, done: 71, pace: "0.97", spread: "0.95", settled: 58}},
		{design: reed, customer: players, pieces: "2", began: 90, issued: 88, answered: 81, made: made{deposit: 76, done: 60, pace: "0.98", spread: "0.9", settled: 33, credit: "18.00", creditFor: "A scratch on one rim"}},
		{design: heater, customer: anneke, words: "Hello, I would like a heater shield, 56 cm wide and 76 cm high, red, for Marshlight. Anneke Withy, anneke@withy.example", began: 84, issued: 74, answered: 70, why: "Found one elsewhere"},
		{design: hive, customer: mara, began: 70, issued: 65, answered: 55, why: "Not ready in time"},
		{design: reed, customer: corin, words: "An oval please, 48 by 64 cm, deep blue. Corin Hask, corin@hask.example", began: 63, issued: 62, answered: 60, made: made{deposit: 55, done: 41, pace: "0.93", spread: "0.95"}},
		{design: sedge, customer: players, began: 57, issued: 48},
		{design: reed, customer: ilse, began: 50, issued: 49, again: 45, answered: 42, made: made{deposit: 38, done: 20, pace: "1.05", spread: "1", settled: 11}},
		{design: reed, customer: tolva, began: 36, issued: 34, answered: 31, why: "too  dear"},
		{design: reed, customer: anneke, words: "Do you make ovals? About 48 by 64 cm, blue, no latex please. Anneke Withy, anneke@withy.example", began: 24, issued: 21},
		{design: reed, customer: jonas, began: 16, issued: 15, answered: 12, made: made{deposit: 8}},
		{design: reed, customer: players, pieces: "2", began: 12, issued: 10},
		{design: buckler, customer: mara, began: 6, issued: 5, answered: 3},
	}
}
