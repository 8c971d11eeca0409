package brief

var baseRates = map[string]float64{}
