package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/page/address"
	"tenter/page/card"
	"tenter/page/question"
	"tenter/page/sheet"
)

// The card is a file that needs nothing else, its style inside it. The policy of
// its answer lets that one style through by its hash, and nothing else at all.

// cardPolicy is the policy for a page that holds these styles.
func (s *Site) cardPolicy(page []byte) string {
	var hashes []string
	for rest := string(page); ; {
		_, after, ok := strings.Cut(rest, "<style>")
		if !ok {
			break
		}
		style, after, _ := strings.Cut(after, "</style>")
		sum := sha256.Sum256([]byte(style))
		hashes = append(hashes, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'")
		rest = after
	}
	framer := "'none'"
	if s.phone {
		framer = "'self'"
	}
	return fmt.Sprintf("default-src 'none'; img-src data:; style-src %s; base-uri 'none'; form-action 'none'; frame-ancestors %s", strings.Join(hashes, " "), framer)
}

// card gives the card of the make-up in the address.
func (s *Site) card(r Request) Reply {
	out, err := s.writeCard(address.NewAsk(r.URL.EscapedPath(), "", r.URL.Query()))
	if err != nil {
		return s.failWith(r, err)
	}
	a := newReply(statusOK, htmlKind, out)
	a.Header["Content-Security-Policy"] = s.cardPolicy(out)
	return a
}

func (s *Site) writeCard(ask address.Ask) ([]byte, error) {
	k := s.shared()
	m, wrong := question.MakeUp(k, ask)
	if m.Piece == nil || m.Finish == nil || m.Shell == nil {
		what := "a card wants a piece, a finish and a cloth"
		if len(wrong) > 0 {
			what = wrong[0].What
		}
		return nil, &fault.Fault{Kind: fault.WrongCall, What: what}
	}
	plan, wrong, err := question.Plan(k, ask, m)
	if err != nil {
		return nil, err
	}
	if len(wrong) > 0 {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: wrong[0].What, Expected: wrong[0].Expected}
	}
	o := card.Options{Kind: ask.Get("kind"), Paper: ask.Get("paper"), Units: ask.Units, OneWay: ask.Get(address.KeyOneWay) != "", Reasons: ask.Get("reasons") != ""}
	c, err := card.New(k.Adv, m, plan, o)
	if err != nil {
		return nil, err
	}
	c.Way = wayOf(k, ask, m, o)
	var out bytes.Buffer
	err = c.Write(&out)
	return out.Bytes(), err
}

// wayOf is the trail that leads to the card and back, and the other sheets of it.
func wayOf(k *sheet.Site, ask address.Ask, m advise.MakeUp, o card.Options) []card.Way {
	s := sheet.NewSheet(k, ask, "", "")
	var out []card.Way
	for _, x := range s.Trail(m, address.StageCard) {
		out = append(out, card.Way{Word: x.Word, To: x.To, Chosen: x.Chosen, Now: x.Now})
	}
	other := card.Way{Word: "Shopping card", To: ask.With("kind", card.Shopping, "reasons", "")}
	if o.Kind == card.Shopping {
		other = card.Way{Word: "Job card", To: ask.With("kind", "")}
	} else if !o.Reasons {
		out = append(out, card.Way{Word: "With reasons", To: ask.With("reasons", "yes")})
	}
	return append(out, other)
}
