// Package advise says what to do with a cloth: it judges a make-up (a piece,
// how it is finished, shell, lining, interfacing) by the demands of the piece
// run over the whole population of the cloth, fires the rules, and gives the
// answers of `check`, `advise` and `pair` with their reasons.
package advise

//go:generate go test -tags uncompiled . -run TestCompiledAdvice -update
