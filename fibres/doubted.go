package fibres

import (
	"fmt"

	"tenter/fibres/prose"
)

// Doubted asks whether a figure is right that lies far outside of what is usual: "--mass
// 750gsm: is that right? Cotton lawn usually weighs 58 to 92 g/m2." What is doubted is
// value as it was given, what is usual in the units of the answer; a hint may follow.
func Doubted(value, of string, p Property, usual, hint string) string {
	s := fmt.Sprintf("%s: is that right? %s usually %s.", value, prose.Upper(of), p.has(usual))
	if hint != "" {
		s += " " + hint
	}
	return s
}

// has says a figure of a property as a cloth has it.
func (p Property) has(figure string) string {
	info := &Properties[p]
	if info.Says == "" {
		return "has " + prose.A(info.Name) + " of " + figure
	}
	return fmt.Sprintf(info.Says, figure)
}
