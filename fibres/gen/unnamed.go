package main

import (
	"math"
	"slices"

	"tenter/fibres"
)

// cloth is one cloth of the open set: its mass in g/m² and its bending lengths
// in cm.
type cloth struct{ mass, warp, weft, bias float64 }

// overall is the overall bending length, in ln.
func (c cloth) overall() float64 { return math.Log(c.warp*c.weft) / 2 }

func readSet(file string) ([]cloth, error) {
	rows, err := table(file)
	if err != nil {
		return nil, err
	}
	var out []cloth
	for i, r := range rows {
		var c cloth
		for _, x := range []struct {
			to  *float64
			col string
		}{{&c.mass, "areal_mass_gsm"}, {&c.warp, "bending_length_warp_cm"}, {&c.weft, "bending_length_weft_cm"}, {&c.bias, "bending_length_bias_cm"}} {
			if *x.to, err = number(file, i, r, x.col); err != nil {
				return nil, err
			}
		}
		out = append(out, c)
	}
	return out, nil
}

const feng = "Feng; Huang; Xu; Wang 2022, Learning-based bending stiffness parameter estimation by a drape tester (dataset.csv); computed here, go run ./fibres/gen"

// line is ln c = a + b ln W.
type line struct{ a, b float64 }

func (l line) at(mass float64) float64 { return l.a + l.b*math.Log(mass) }

// fit is the line of least squares.
func fit(cloths []cloth) line {
	var sx, sy, sxx, sxy, n float64
	for _, c := range cloths {
		x, y := math.Log(c.mass), c.overall()
		sx, sy, sxx, sxy, n = sx+x, sy+y, sxx+x*x, sxy+x*y, n+1
	}
	b := (sxy - sx*sy/n) / (sxx - sx*sx/n)
	return line{(sy - b*sx) / n, b}
}

// quantile is that of a sorted list, by straight lines between its points.
func quantile(sorted []float64, u float64) float64 {
	q := u * float64(len(sorted)-1)
	i := min(int(q), len(sorted)-2)
	return sorted[i] + (q-float64(i))*(sorted[i+1]-sorted[i])
}

// residuals are ln c less the line, sorted.
func residuals(l line, cloths []cloth) []float64 {
	out := make([]float64, len(cloths))
	for i, c := range cloths {
		out[i] = c.overall() - l.at(c.mass)
	}
	slices.Sort(out)
	return out
}

func moments(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(sd / float64(len(v)-1))
}

func rms(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x * x
	}
	return math.Sqrt(s / float64(len(v)))
}

// fitUnnamed fits what is taken from the open set: the line over mass, its
// quantiles, the directions, the bands.
func fitUnnamed(r *report, cloths []cloth) line {
	n := len(cloths)
	l := fit(cloths)
	res := residuals(l, cloths)
	r.add(feng, "scale of c = scale · W^exponent", math.Exp(l.a), "cm", n)
	r.add(feng, "exponent of c = scale · W^exponent", l.b, "1", n)
	r.add(feng, "root mean square residual", rms(res), "ln", n)
	var all []float64
	for _, c := range cloths {
		all = append(all, c.overall())
	}
	_, sd := moments(all)
	r.add(feng, "part of the variance that mass explains", 1-rms(res)*rms(res)*float64(n)/(sd*sd*float64(n-1)), "1", n)
	for _, q := range []struct {
		name string
		u    float64
	}{{"5", 0.05}, {"10", 0.1}, {"25", 0.25}, {"50", 0.5}, {"75", 0.75}, {"90", 0.9}, {"95", 0.95}} {
		r.add(feng, "quantile of c over the line, "+q.name+" %", math.Exp(quantile(res, q.u)), "1", n)
	}
	inside := 0
	for _, c := range cloths { // the interval that the program gives for a mass alone
		if f := math.Exp(c.overall()) / (1.270 * math.Pow(c.mass, 0.0748)); f >= 0.70 && f <= 1.39 {
			inside++
		}
	}
	r.add(feng, "cloths within 0.70 to 1.39 times 1.270 W^0.0748", float64(inside), "cloths", n)

	// Each cloth predicted from the others: line and quantiles fitted without it.
	inside = 0
	var miss []float64
	for i, c := range cloths {
		rest := slices.Delete(slices.Clone(cloths), i, i+1)
		m := fit(rest)
		q := residuals(m, rest)
		e := c.overall() - m.at(c.mass)
		miss = append(miss, e)
		if e >= quantile(q, 0.1) && e <= quantile(q, 0.9) {
			inside++
		}
	}
	r.add(feng, "leave one out by mass: cloths within 10 to 90 %", float64(inside), "cloths", n)
	r.add(feng, "leave one out by mass: root mean square error", rms(miss), "ln", n)

	directions(r, cloths)
	count := make([]float64, len(fibres.HandScale))
	for _, c := range cloths {
		count[band(math.Exp(c.overall()))]++
	}
	for i, w := range fibres.HandScale {
		r.add(feng, "share of the band "+w, 100*count[i]/float64(n), "%", n)
	}
	return l
}

// band is the level of hand in which a bending length lies.
func band(cm float64) int {
	for i := len(fibres.HandEdges) - 2; i > 0; i-- {
		if cm >= fibres.HandEdges[i] {
			return i
		}
	}
	return 0
}

// directions fits how warp, weft and bias stand to the overall bending length.
func directions(r *report, cloths []cloth) {
	n := len(cloths)
	var ratio, warp, bias, stiffer []float64
	for _, c := range cloths {
		ratio = append(ratio, c.warp/c.weft)
		warp = append(warp, math.Log(c.warp)-c.overall())
		// rigidity on the bias against the formula of two directions
		gw, gf := math.Pow(c.warp, 3), math.Pow(c.weft, 3)
		bias = append(bias, math.Log(math.Pow(c.bias, 3)/math.Pow(0.5/math.Sqrt(gw)+0.5/math.Sqrt(gf), -2)))
		if c.warp > c.weft {
			stiffer = append(stiffer, 1)
		}
	}
	slices.Sort(ratio)
	for _, q := range []struct {
		name string
		u    float64
	}{{"5", 0.05}, {"25", 0.25}, {"50", 0.5}, {"75", 0.75}, {"95", 0.95}} {
		r.add(feng, "warp over weft, "+q.name+" %", quantile(ratio, q.u), "1", n)
	}
	r.add(feng, "cloths stiffer along the warp", 100*float64(len(stiffer))/float64(n), "%", n)
	r.add(feng, "warp over overall, from the median of warp over weft", math.Sqrt(quantile(ratio, 0.5)), "1", n)
	_, sd := moments(warp)
	r.add(feng, "standard deviation of warp over overall", sd, "ln", n)
	r.add(feng, "the same from the 5 and 95 % of warp over weft", math.Log(quantile(ratio, 0.95)/quantile(ratio, 0.05))/(2*2*1.6449), "ln", n)
	mean, sd := moments(bias)
	slices.Sort(bias)
	r.add(feng, "bias rigidity over the formula, median", math.Exp(quantile(bias, 0.5)), "1", n)
	r.add(feng, "bias rigidity over the formula, mean of ln", mean, "ln", n)
	r.add(feng, "bias rigidity over the formula, standard deviation of ln", sd, "ln", n)
	r.add(feng, "bias bending length: a third of it", sd/3, "ln", n)
}
