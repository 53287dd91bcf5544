// Package transient computes pressure waves in pipe networks by the method of
// characteristics: piezometric head H in m and flow Q in m³/s on a fixed grid at
// Courant number 1 (Wylie and Streeter 1993, ch. 3; Chaudhry 2014, ch. 3).
//
// Along a pipe of wave speed a, area A and reach Δx = a Δt the two characteristics that
// meet in a node after a step are
//
//	C+:  H = CP − B Q,  CP = H₋ + Q₋ (B − R|Q₋| − L)
//	C−:  H = CM + B Q,  CM = H₊ − Q₊ (B − R|Q₊| − L)
//
// with B = a/(gA), R = (f Δx/D + K)/(2gA²) and, for laminar flow, L = 32 ν Δx/(g D² A).
// Friction is that of the foot of the characteristic, so a steady flow stays steady to
// round-off. Unsteady friction and gas cavities are added where they are asked for.
//
// At a node pipes meet a Boundary, which sees each pipe end as H = C − B Q with Q into
// the node. Devices in line (a pump, a check valve, a throttle) are met by shape alone,
// as Source, Device and Supply: the package knows no pump and no valve, so that closed
// forms alone can test it. A device decides the flow from what the rest of the circuit
// offers, Q = free − ΔH/Z, and may be asked many times for one step before it is given
// that the step is over; so a moving disc is solved together with the flow.
//
// To add a boundary, write one file with a type that has Solve and Commit.
package transient

// standardGravityMS2 is used where a model gives none.
const standardGravityMS2 = 9.80665
