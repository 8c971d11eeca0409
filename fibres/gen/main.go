// Command gen fits every figure of the predictor of bending length and tells
// how often it is right.
//
//	go run ./fibres/gen -set open_bending_set.csv -ten ten_cloths.csv
//	go run ./fibres/gen -set open_bending_set.csv -ten ten_cloths.csv -write testdata/reference/calibration.csv
//
// The set is the open one of Feng and others 2022, one row for each distinct
// cloth, with the columns areal_mass_gsm, bending_length_warp_cm,
// bending_length_weft_cm and bending_length_bias_cm. The ten are the named cloths
// of Wang and others 2011, with the columns of named_bending_lengths.csv. Both are
// cited, not copied: what the tests need of them are the summary figures that
// -write writes.
package main

import (
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"tenter/data"
	"tenter/fibres"
)

func main() {
	set := flag.String("set", "", "the open set of measured cloths, as CSV")
	ten := flag.String("ten", "", "the ten named cloths of Wang and others 2011, as CSV")
	reference := flag.String("reference", filepath.Join("testdata", "reference"), "folder of the named rows")
	write := flag.String("write", "", "file to write the summary figures to")
	flag.Parse()
	if err := run(*set, *ten, *reference, *write, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(set, ten, reference, write string, out io.Writer) error {
	if set == "" {
		return errors.New("-set: name the CSV of the open set, one row for each cloth")
	}
	if ten == "" {
		return errors.New("-ten: name the CSV of the ten named cloths")
	}
	cloths, err := readSet(set)
	if err != nil {
		return err
	}
	named, err := readNamed(filepath.Join(reference, "named_bending_lengths.csv"))
	if err != nil {
		return err
	}
	more, err := readNamed(ten)
	if err != nil {
		return err
	}
	named = append(more, named...)
	cat, err := fibres.Load(data.FS)
	if err != nil {
		return err
	}
	r := report{}
	unnamed := fitUnnamed(&r, cloths)
	fitNamed(&r, cat, named, unnamed)
	for _, f := range r {
		fmt.Fprintf(out, "%-72s %9s %-8s n %s\n", f.figure, f.value, f.unit, f.n)
	}
	if write == "" {
		return nil
	}
	return r.write(write)
}

// figure is one line of the report.
type figure struct{ source, figure, value, unit, n string }

type report []figure

func (r *report) add(source, name string, v float64, unit string, n int) {
	*r = append(*r, figure{source, name, strconv.FormatFloat(v, 'f', 4, 64), unit, strconv.Itoa(n)})
}

func (r report) write(file string) error {
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	w := csv.NewWriter(f)
	_ = w.Write([]string{"source", "figure", "value", "unit", "n"})
	for _, x := range r {
		_ = w.Write([]string{x.source, x.figure, x.value, x.unit, x.n})
	}
	w.Flush()
	return errors.Join(w.Error(), f.Close())
}

// table reads a CSV as rows by column name.
func table(file string) ([]map[string]string, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(rows) < 2 {
		return nil, fmt.Errorf("%s: no rows", file)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out, nil
}

func number(file string, line int, row map[string]string, column string) (float64, error) {
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil || !(v > 0) {
		return 0, fmt.Errorf("%s: row %d: %s is %q, want a figure over 0", file, line+2, column, row[column])
	}
	return v, nil
}
