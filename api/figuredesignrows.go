package api

import (
	"foamwright/pricing/figures"
)

// Costing is what an order, or several, cost and bring, net. Shares are fractions.
type Costing struct {
	Net              string `json:"net"`
	Fee              string `json:"fee" doc:"what taking the payment costs"`
	Material         string `json:"material"`
	Handling         string `json:"handling"`
	Labour           string `json:"labour"`
	BoughtIn         string `json:"bought_in"`
	Contingency      string `json:"contingency"`
	Cost             string `json:"cost" doc:"all of them but the fee"`
	Earned           string `json:"earned" doc:"net less fee and cost"`
	Margin           string `json:"margin" doc:"earned as a share of the net less the fee"`
	MaterialShare    string `json:"material_share" doc:"of the cost"`
	Contribution     string `json:"contribution" doc:"net less fee, material, handling and what is bought in"`
	Hours            string `json:"hours"`
	Low              string `json:"hours_low"`
	High             string `json:"hours_high"`
	PerHour          string `json:"margin_an_hour"`
	ContributionHour string `json:"contribution_an_hour"`
	FormerDays       string `json:"former_days"`
	DryingDays       string `json:"drying_days"`
	PerFormer        string `json:"contribution_a_former_day"`
	PerDrying        string `json:"contribution_a_drying_day"`
}

// JobsDone are orders that were done: as they were planned and as they took, by the same sums.
type JobsDone struct {
	Jobs    int      `json:"jobs"`
	Untold  int      `json:"untold" doc:"jobs besides, whose plan was not kept"`
	Planned *Costing `json:"planned,omitempty"`
	Took    *Costing `json:"took,omitempty"`
	Rework  string   `json:"rework_hours"`
}

// QuotedSums are quotes that were issued, numbers in their newest version.
type QuotedSums struct {
	Quotes  int    `json:"quotes"`
	Pieces  int    `json:"pieces"`
	Net     string `json:"net"`
	NetEach string `json:"net_each,omitempty" doc:"mean of a piece"`
}

// DesignFigures is a design at today's figures, beside what was quoted and what jobs took.
type DesignFigures struct {
	Design  string     `json:"design" format:"uuid"`
	Name    string     `json:"name"`
	Version int        `json:"version"`
	Pieces  int        `json:"pieces"`
	Price   string     `json:"price" doc:"with tax, today"`
	NetEach string     `json:"net_each" doc:"of a piece, today"`
	Today   Costing    `json:"today"`
	Quoted  QuotedSums `json:"quoted"`
	Done    JobsDone   `json:"done"`
}

type comparedDesigns struct {
	From     string          `json:"from,omitempty" format:"date"`
	To       string          `json:"to,omitempty" format:"date"`
	Currency string          `json:"currency"`
	Designs  []DesignFigures `json:"designs"`
	Skipped  []NotPriced     `json:"not_priced"`
	Loose    int             `json:"jobs_without_design"`
}

// NotPriced is what cannot be priced as it is written.
type NotPriced struct {
	ID   string `json:"id" format:"uuid"`
	Name string `json:"name"`
	Why  string `json:"why"`
}

// JobDone is an order that was done.
type JobDone struct {
	Order    string   `json:"order" format:"uuid"`
	Number   string   `json:"number"`
	Title    string   `json:"title"`
	Customer string   `json:"customer"`
	Version  int      `json:"version" doc:"of the design"`
	Ended    string   `json:"ended" format:"date"`
	Done     JobsDone `json:"done"`
}

// VersionFigures is a version of a design.
type VersionFigures struct {
	Version int          `json:"version"`
	Since   string       `json:"since" format:"date"`
	Changes []SpecChange `json:"changes" doc:"of the spec, from the version before"`
	Quoted  QuotedSums   `json:"quoted"`
	Done    JobsDone     `json:"done"`
}

// SpecChange is an entry of a spec that was changed.
type SpecChange struct {
	What string `json:"what"`
	Was  string `json:"was,omitempty"`
	Now  string `json:"now,omitempty"`
}

type oneDesign struct {
	From     string           `json:"from,omitempty" format:"date"`
	To       string           `json:"to,omitempty" format:"date"`
	Name     string           `json:"name"`
	Today    *DesignFigures   `json:"today,omitempty"`
	Why      string           `json:"not_priced,omitempty" doc:"it cannot be priced as it is written"`
	Versions []VersionFigures `json:"versions"`
	Quoted   QuotedSums       `json:"quoted"`
	Done     JobsDone         `json:"done" doc:"of all jobs, those of other pages too"`
	Jobs     []JobDone        `json:"jobs" doc:"the newest first, at most 100 of a page"`
	Pages    int              `json:"pages"`
}

type figureSpan struct {
	From string `query:"from" doc:"first day; twelve months back where it is left out"`
	To   string `query:"to" doc:"last day; today where it is left out"`
	All  bool   `query:"all" doc:"quotes and jobs of all time"`
}

type designSpan struct {
	ID   string `path:"id" format:"uuid"`
	From string `query:"from" doc:"first day; twelve months back where it is left out"`
	To   string `query:"to" doc:"last day; today where it is left out"`
	All  bool   `query:"all" doc:"quotes and jobs of all time"`
	Page int    `query:"page" minimum:"1"`
}

// MarginInput is one input a tenth up.
type MarginInput struct {
	Name   string `json:"name"`
	Cost   string `json:"cost" doc:"then"`
	Margin string `json:"margin" doc:"then, with the price kept"`
	Points string `json:"points" doc:"of margin that it moves"`
}

type hangsOn struct {
	Margin string        `json:"margin" doc:"as it is"`
	Cost   string        `json:"cost"`
	Words  string        `json:"words"`
	Inputs []MarginInput `json:"inputs" doc:"what moves the margin most first"`
	Price  MarginInput   `json:"price" doc:"the price itself a tenth up"`
}

// BatchOf is an order of so many.
type BatchOf struct {
	Pieces     int    `json:"pieces"`
	Price      string `json:"price,omitempty" doc:"with tax"`
	NetEach    string `json:"net_each,omitempty"`
	Cost       string `json:"cost,omitempty"`
	CostEach   string `json:"cost_each,omitempty"`
	NextCosts  string `json:"next_costs,omitempty" doc:"what the last one adds to the cost; where several were added, each of them"`
	Hours      string `json:"hours,omitempty"`
	Left       string `json:"left,omitempty" doc:"at the price asked about, after fee and cost"`
	LeftMargin string `json:"left_margin,omitempty"`
	Why        string `json:"why_not,omitempty"`
}

type batchList struct {
	Each    string    `json:"each" doc:"price of one with tax that is asked about"`
	Aimed   string    `json:"margin_aimed_at"`
	Covered int       `json:"covered_from" doc:"smallest number whose cost it covers; 0 for none"`
	Keeps   int       `json:"keeps_from" doc:"smallest number that keeps the margin; 0 for none"`
	SetUp   string    `json:"set_up_hours" doc:"of one, that an order has once"`
	OfOne   string    `json:"hours_of_one"`
	Batches []BatchOf `json:"batches"`
}

type batchAsked struct {
	ID   string `path:"id" format:"uuid"`
	Each string `query:"each" doc:"price of one with tax; the price list's, else today's, where it is left out"`
}

func costingOf(w figures.Weighed) Costing {
	return Costing{
		Net: w.Net.String(), Fee: w.Fee.String(), Material: w.Material.String(), Handling: w.Handling.String(), Labour: w.Labour.String(), BoughtIn: w.BoughtIn.String(), Contingency: w.Contingency.String(),
		Cost: w.Cost().String(), Earned: w.Earned().String(), Margin: w.Margin().Share.StringFixed(4), MaterialShare: w.MaterialShare().StringFixed(4), Contribution: w.Contribution().String(),
		Hours: w.Hours.StringFixed(2), Low: w.Low.StringFixed(2), High: w.High.StringFixed(2), PerHour: w.PerHour().String(), ContributionHour: w.Bottleneck().String(),
		FormerDays: w.Former.String(), DryingDays: w.Drying.String(), PerFormer: w.PerFormer().String(), PerDrying: w.PerDrying().String(),
	}
}

func doneOf(d figures.Done) JobsDone {
	out := JobsDone{Jobs: d.Jobs, Untold: d.Untold, Rework: d.Rework.StringFixed(2)}
	if d.Jobs > 0 {
		planned, took := costingOf(d.Plan()), costingOf(d.Took())
		out.Planned, out.Took = &planned, &took
	}
	return out
}

func quotedOf(q figures.Quoted) QuotedSums {
	out := QuotedSums{Quotes: q.Quotes, Pieces: q.Pieces, Net: q.Net.String()}
	if q.Quotes > 0 {
		out.NetEach = q.Each().String()
	}
	return out
}

func comparedRow(c figures.Compared) DesignFigures {
	return DesignFigures{
		Design: c.ID, Name: c.Name, Version: c.Version, Pieces: c.Quantity, Price: c.Price.String(), NetEach: c.NetEach().String(),
		Today: costingOf(c.Weighed), Quoted: quotedOf(c.Quoted), Done: doneOf(c.Done),
	}
}
