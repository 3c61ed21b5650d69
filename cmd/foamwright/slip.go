package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// width of the slip in characters.
const slipWidth = 64

// slip prints an estimate for the terminal: dotted lines, sums under their lines.
func slip(w io.Writer, e pricing.Estimate, full bool) error {
	out := bufio.NewWriter(w)
	s := e.Shield
	fmt.Fprintf(out, "%s", s.Spec.Name)
	if s.Spec.Quantity > 1 {
		fmt.Fprintf(out, ", %d of them", s.Spec.Quantity)
	}
	if s.Made() {
		fmt.Fprintf(out, "\n%s, %.0f × %.0f mm, %d × %.4g mm", s.Spec.Outline.Shape, s.Box.Width(), s.Box.Height(), s.Spec.Core.Layers, s.CoreFoam.Thickness.MM())
	}
	if c := s.Curve; c != nil {
		fmt.Fprintf(out, " over %.0f mm: %.0f mm straight across, %.0f mm deep", c.Former, c.Released.Chord, c.Released.Depth)
	}
	if s.Made() {
		fmt.Fprintf(out, "\n%s", sales.Judged(words.Tongue{}, e.Verdict))
	}
	fmt.Fprint(out, "\n\n")
	for _, share := range e.Shares() {
		dotted(out, string(share.Group), share.Cost.String())
		for _, c := range share.Charges {
			if full {
				fmt.Fprintf(out, "    %s: %s\n", c.Name, c.Formula)
			}
		}
	}
	for _, l := range e.Price.Lines {
		if l.Sum {
			fmt.Fprintln(out, strings.Repeat(" ", slipWidth-12)+strings.Repeat("-", 12))
		}
		dotted(out, l.Label, l.Amount.String())
		if grade, labour := l.GradeOf(); full && labour {
			for _, step := range e.Work.Lines {
				if step.Step.Grade == grade {
					fmt.Fprintf(out, "    %s: %s\n", step.Step.Name, step.Formula)
				}
			}
		} else if full && l.How != "" {
			fmt.Fprintf(out, "    %s\n", l.How)
		}
	}
	p := e.Price
	fmt.Fprintf(out, "\n%s %s, deposit %s, balance %s. %s h (%s to %s), %d working days, about %.1f kg.\n",
		p.Gross.Currency(), p.Gross, p.Deposit, p.Balance, e.Work.Hours, e.Work.Low, e.Work.High, e.Outlook.WorkingDays, e.TakeOff.Mass.InexactFloat64())
	for _, warning := range e.Warnings {
		fmt.Fprintln(out, "Note:", warning)
	}
	return out.Flush()
}

func dotted(w io.Writer, label, amount string) {
	dots := slipWidth - utf8.RuneCountInString(label) - len(amount) - 2
	fmt.Fprintf(w, "%s %s %s\n", label, strings.Repeat(".", max(dots, 2)), amount)
}
