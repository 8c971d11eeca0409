package main

import (
	"tenter/kb"
	"tenter/kb/store"
)

// baseHandle is the opened knowledge base of this run.
type baseHandle struct{ *kb.Base }

func (h *baseHandle) close() {
	if h.Store != nil {
		_ = h.Store.Close()
	}
}

// kb opens the reference with the user's own records, where there are any.
// What only reads does not make a store.
func (a *app) kb() (*kb.Base, error) {
	if a.base != nil {
		return a.base.Base, nil
	}
	adv, err := a.adv()
	if err != nil {
		return nil, err
	}
	b := &kb.Base{Cat: adv.Cat}
	if p := storePath(); p != "" {
		s, there, err := store.OpenIfExists(p)
		if err != nil {
			return nil, err
		}
		if there {
			b.Store = s
		}
	}
	a.base = &baseHandle{b}
	return b, nil
}
