// Package drape computes how a sheet of cloth comes to rest under its weight:
// over a disc, held along a line, or on a body.
//
// The sheet is a square grid along warp and weft. Its energy (weight, stretch of
// the yarns, shear between them, bending along each, twist, contact with a body)
// is minimised by Newton's method with a sparse Cholesky factor of its own. All
// is in metres, kilograms and newtons; nothing is read or written.
//
// Left out are friction within the cloth, creep, curl, pucker of seams and the
// angle at which shear locks. Several shapes of rest are near equal in energy, so a
// fold's place and number are one of several.
package drape
