// Package hang holds the mechanics of a hanging cloth: its bending length from
// home tests, the stiffness of a stack of layers, the fall of a flap as a heavy
// elastica, the width of folds and the drape coefficient.
//
// The bending length c = (G / (W g))^(1/3) is the one length in all of it: two
// cloths with the same c hang alike, whatever they weigh. Lengths here are in
// centimetres, masses in g/m², rigidities in µN·m per metre of width, angles in
// degrees below the horizontal.
//
// What is exact and what is not: the heavy elastica (a strip that bends in one
// direction, does not stretch and keeps no set) is solved to about 1e-10 of its
// length. A real cloth departs from it by friction, by the curl of its faces and
// by folding in two directions at once; the width of folds and the drape
// coefficient are rough, and say so.
package hang

//go:generate go run ./gen -tables .
