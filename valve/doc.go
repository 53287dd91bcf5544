// Package valve is the mechanics of check valves: what holds the moving element,
// what the flow does to it, how far it opens, what it loses, and how it closes.
//
// Every type comes down to one form. At an opening ξ (0 seated, positive opening;
// a length, or an angle for hinged elements) the water passes up to three
// resistances in series, each felt at its own velocity relative to the element:
//
//	y_i = V − γ_i u            V bore velocity, u = dξ/dt
//	Δp  = ½ρ Σ K_i y_i|y_i|
//	M du/dt + ½ M' u² = Σ S_i Δp_i − F_close + C dV/dt − friction − damping
//
// K_i is the loss, γ_i what a unit of element speed sweeps, S_i the force (or
// torque) that a unit of the pressure drop gives, M the mass (or inertia) with the
// water that moves along, C the pull of accelerating water. A type is a list of
// parameters and a law that gives these numbers as a State for each opening: one
// file each. Settle finds where the element rests, Close shuts it under a
// decelerating flow, Element moves it step by step inside a larger solver.
package valve
