package sheet

// Option is one choice of a list in a form.
type Option struct {
	Value, Word string
	Chosen      bool
}

// OptionGroup is some of them under a heading.
type OptionGroup struct {
	Title   string
	Options []Option
}

// PieceOptions lists the pieces by their group.
func (k *Site) PieceOptions(chosen string) []OptionGroup {
	var out []OptionGroup
	at := map[string]int{}
	for _, p := range k.Adv.Pieces {
		i, ok := at[p.Group]
		if !ok {
			i = len(out)
			at[p.Group] = i
			out = append(out, OptionGroup{Title: p.Group})
		}
		out[i].Options = append(out[i].Options, Option{p.ID, p.Name, p.ID == chosen})
	}
	return out
}

// FinishOptions lists the finishes, those with a lining apart.
func (k *Site) FinishOptions(chosen string) []OptionGroup {
	out := []OptionGroup{{Title: "without a lining"}, {Title: "with a lining"}}
	for _, f := range k.Adv.Finishes {
		i := 0
		if f.Lined {
			i = 1
		}
		out[i].Options = append(out[i].Options, Option{f.ID, f.Name, f.ID == chosen})
	}
	return out
}

// Options lists the things of a kind.
func (k *Site) Options(kind, chosen string) []Option {
	var out []Option
	for _, l := range k.Things(kind) {
		out = append(out, Option{l.ID, l.Name, l.ID == chosen})
	}
	return out
}

// WordOptions makes choices of plain words.
func WordOptions(chosen string, words ...string) []Option {
	var out []Option
	for _, w := range words {
		out = append(out, Option{w, w, w == chosen})
	}
	return out
}
