package advise

// Needle is one row of the needle table: the needle, thread and stitch for a
// cloth of a mass.
type Needle struct {
	ID, Name              string
	MassLow, MassHigh     float64 // g/m²
	NeedleFirst           float64 // the size to take first, hundredths of a millimetre
	NeedleLow, NeedleHigh float64
	ThreadLow, ThreadHigh float64 // tex
	StitchLow, StitchHigh float64 // mm
	Cite
}

// needles reads needles.csv.
func (l *loader) needles() {
	for _, r := range l.rows("needles.csv", "id", "name", "mass_gsm_low", "mass_gsm_high", "needle_nm_first", "needle_nm_low", "needle_nm_high",
		"thread_tex_low", "thread_tex_high", "stitch_mm_low", "stitch_mm_high", "basis", "source_id", "locator", "note") {
		n := Needle{ID: r.Cell("id").Text, Name: r.Cell("name").Text, Cite: Cite{Basis: r.Cell("basis").Text, Sources: []string{r.Cell("source_id").Text}}}
		for _, x := range []struct {
			to     *float64
			column string
			high   float64
			unit   string
		}{{&n.NeedleFirst, "needle_nm_first", 250, ""}, {&n.MassLow, "mass_gsm_low", 2000, "g/m2"}, {&n.MassHigh, "mass_gsm_high", 2000, "g/m2"}, {&n.NeedleLow, "needle_nm_low", 250, ""},
			{&n.NeedleHigh, "needle_nm_high", 250, ""}, {&n.ThreadLow, "thread_tex_low", 500, "tex"}, {&n.ThreadHigh, "thread_tex_high", 500, "tex"},
			{&n.StitchLow, "stitch_mm_low", 10, "mm"}, {&n.StitchHigh, "stitch_mm_high", 10, "mm"}} {
			v, _, err := r.Cell(x.column).Float(0, x.high, x.unit)
			if err != nil {
				l.found.Add(err)
			}
			*x.to = v
		}
		l.a.Needles = append(l.a.Needles, n)
	}
}
