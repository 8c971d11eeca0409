// Package cut takes a piece from its finished size to the cloth on the table:
// outlines, what shrinking adds to them, how the parts lie in the cloth's real
// width, how much to buy, how much thread and binding it takes.
//
// Lengths are centimetres throughout. A part has a width and a height as it is
// worn or drawn; on the cloth it lies across (along the weft, selvedge to
// selvedge) and along (with the warp, parallel to the selvedge). As a rule the
// height runs along; a part that is turned lies with its height across.
package cut
