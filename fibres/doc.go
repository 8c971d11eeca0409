// Package fibres says what cloth is and how it behaves: fibres, structures,
// cloths sold under a name, and for each property of a cloth an [Estimate]
// with the chain of evidence that led to it. A cloth's name is a population;
// [Catalogue.Sample] draws the fixed sample that the mechanics run over.
//
// The sub-packages hold the mechanics (hang, shrink, yarn) and the plumbing
// (units, fault, table). The package reads the embedded data and nothing else.
package fibres

//go:generate go test -tags uncompiled . -run TestCompiledCatalogue -update
