// Package price reads what a cloth cost as people write it: "12.50 per metre",
// "£8 a yard", "30 EUR for 2.5 m".
package price

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Price is what a length of cloth costs.
type Price struct {
	Amount   float64      // of the currency, 0 to 1 000 000
	Currency string       // its sign, or the word as written; "" where none was
	Per      units.Length // the length it is for; 0 where none was said
	Whole    bool         // it was said to be for the piece, however long
}

// maxAmount is the largest sum that is believed.
const maxAmount = 1_000_000

// Expected says in an error and beside a field how a price is written.
const Expected = "such as 12.50 per metre, £8 a yard, 30 EUR for 2.5 m, or 40 in all"

// OfLength says how the price of a length is written.
const OfLength = "the price of a length, such as 12.50 per metre, £8 a yard or 30 EUR for 2.5 m"

// ParseOfLength reads the price of a length. A sum that says no length is for the
// bare one; where that is 0 it is refused, as is one for a whole piece.
func ParseOfLength(s string, bare units.Length) (Price, error) {
	p, err := Parse(s)
	if err != nil {
		return p, err
	}
	if p.Per == 0 && !p.Whole {
		p.Per = bare
	}
	if p.Per == 0 {
		return Price{}, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is for no length", clip(s)), Expected: OfLength, Mend: "say what length it is for"}
	}
	return p, nil
}

// currencies are the words that stand for a sign.
var currencies = map[string]string{
	"gbp": "£", "pound": "£", "pounds": "£", "eur": "€", "euro": "€", "euros": "€", "usd": "$", "dollar": "$", "dollars": "$",
}

var (
	figure = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[0-9][0-9 .,'\x{00a0}]*`) })
	whole  = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)\b(in all|all of it|in total|total|altogether|each|(for |per |a |the )?(the )?(whole )?(piece|lot|remnant|bolt))\s*$`)
	})
	per    = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)(/\s*|\b(?:per|for|an?|the|each)\s+)(\S.*)$`) })
	filler = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)^(per|for|an?|the|each)$`) })
)

// Parse reads a price. The error says what was expected; a sum without a length
// is no error, since it can be kept, only not compared.
func Parse(s string) (Price, error) {
	bad := func(what string) (Price, error) {
		return Price{}, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q %s", clip(s), what), Expected: "a price, " + Expected}
	}
	at := figure().FindStringIndex(s)
	if at == nil {
		return bad("has no figure in it")
	}
	before, number, after := strings.TrimSpace(s[:at[0]]), strings.TrimRight(s[at[0]:at[1]], " .,'\u00a0"), s[at[0]:]
	after = strings.TrimSpace(after[len(number):])
	if strings.HasSuffix(before, "-") || strings.HasSuffix(before, "−") {
		return bad("is negative")
	}
	v, ok := sum(number)
	if !ok || v > maxAmount {
		return bad("is not a sum of money up to " + strconv.Itoa(maxAmount))
	}
	p := Price{Amount: v}
	if i := whole().FindStringIndex(after); i != nil {
		p.Whole, after = true, strings.TrimSpace(after[:i[0]])
	} else if i := per().FindStringSubmatchIndex(after); i != nil {
		l, ok := length(after[i[4]:i[5]])
		if !ok {
			return bad("does not say for what length")
		}
		p.Per, after = l, strings.TrimSpace(after[:i[0]])
	}
	for _, word := range []string{before, after} {
		word = strings.TrimSuffix(strings.TrimSpace(word), ".")
		switch {
		case word == "":
		case p.Currency != "":
			return bad("names its currency twice, or says more than a price")
		case strings.EqualFold(word, "p") || strings.EqualFold(word, "pence"):
			p.Amount, p.Currency = p.Amount/100, "£"
		case currencies[strings.ToLower(word)] != "":
			p.Currency = currencies[strings.ToLower(word)]
		case isCurrency(word):
			p.Currency = word
		default:
			return bad(fmt.Sprintf("holds %q, which is no currency and no length", clip(word)))
		}
	}
	return p, nil
}

// isCurrency takes a sign, or a short word.
func isCurrency(w string) bool {
	if _, err := units.ParseLength("1 " + w); err == nil || filler().MatchString(w) {
		return false
	}
	n := 0
	for _, r := range w {
		n++
		if !unicode.Is(unicode.Sc, r) && !unicode.IsLetter(r) {
			return false
		}
	}
	return n <= 4
}

// sum reads digits with a decimal point or comma and separated thousands.
func sum(s string) (float64, bool) {
	s = strings.NewReplacer(" ", "", "'", "", "\u00a0", "").Replace(s)
	point, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case point >= 0 && comma >= 0: // the last of the two is the decimal one
		if comma > point {
			s = strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
		} else {
			s = strings.ReplaceAll(s, ",", "")
		}
	case comma >= 0 && len(s)-comma == 4: // 1,250
		s = strings.ReplaceAll(s, ",", "")
	case comma >= 0:
		s = strings.ReplaceAll(s, ",", ".")
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && v >= 0 && !math.IsInf(v, 0)
}

// length reads what a price is for: "metre", "m", "half yard", "2.5 m".
func length(s string) (units.Length, bool) {
	s = strings.ToLower(strings.TrimSuffix(strings.TrimSpace(s), "."))
	part := units.Length(1)
	if rest, half := strings.CutPrefix(s, "half "); half {
		part, s = 0.5, strings.TrimPrefix(rest, "a ")
	}
	s = strings.TrimPrefix(strings.TrimPrefix(s, "running "), "linear ")
	if s != "" && (s[0] < '0' || s[0] > '9') {
		s = "1 " + s
	}
	l, err := units.ParseLength(s)
	return l * part, err == nil && l > 0
}

// PerMetre is the price of a metre, and whether the price says one.
func (p Price) PerMetre() (float64, bool) {
	if p.Per <= 0 {
		return 0, false
	}
	return p.Amount * float64(units.Metre/p.Per), true
}

// For is what a length costs, and whether the price tells.
func (p Price) For(l units.Length) (float64, bool) {
	m, ok := p.PerMetre()
	return m * float64(l/units.Metre), ok
}

// Like reports whether two prices may be compared: their currencies are the
// same, or one of them names none.
func (p Price) Like(q Price) bool {
	return p.Currency == "" || q.Currency == "" || strings.EqualFold(p.Currency, q.Currency)
}

// Say writes the price of a metre, or of a yard: "£8.75 per yard". A price that
// is for no length is written as it is.
func (p Price) Say(s units.System) string {
	switch {
	case p.Per <= 0 && p.Whole:
		return p.Sum(p.Amount) + " in all"
	case p.Per <= 0:
		return p.Sum(p.Amount)
	}
	of, word := units.Metre, "metre"
	if s == units.Imperial {
		of, word = units.Yard, "yard"
	}
	v, _ := p.For(of)
	return p.Sum(v) + " per " + word
}

// Sum writes an amount in the currency of the price.
func (p Price) Sum(v float64) string {
	n := strconv.FormatFloat(v, 'f', 2, 64)
	switch {
	case p.Currency == "":
		return n
	case strings.IndexFunc(p.Currency, unicode.IsLetter) == 0:
		return n + " " + p.Currency
	}
	return p.Currency + n
}

func clip(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}
