// Package steady finds where a pumping station runs: the flow and head at which
// what the running branches give equals what the main needs.
//
// It knows no pump and no valve. A branch is a Source, which adds head, and
// Elements, which lose it; both are met by shape, so anything with the one method
// can stand in the line. Branches join at a header; the main leads from there
// over its high points to the outlet. Every branch ends in a check valve: no
// branch flows backwards, one that cannot lift the header's head delivers nothing
// and is reported as pushed shut.
//
// Heads are in m of the flowing liquid above the wet-well level, flows in m3/s.
// Where a curve that droops or humps allows several balanced states, the one
// chosen is the one of least flow that equal branches share equally: it is the
// first met when the flow grows from shut-off. The others are reported beside it.
package steady
