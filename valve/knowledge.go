package valve

// Knowledge says how the law of a moving element at part opening was come by.
type Knowledge struct {
	Word string // computed, measured or assumed
	Text string // what was computed, measured or assumed
}

// The ways to a law.
var (
	computedDisc   = Knowledge{"computed", "flow computation of a generic swing check body"}
	computedPocket = Knowledge{"computed", "flow computation of a generic inclined-pocket body"}
	ballInTube     = Knowledge{"assumed", "published drag of a ball in a tube, and the gap formula at the seat"}
	likeTheDisc    = Knowledge{"assumed", "law of the computed swing disc on this type's geometry"}
	gapFormula     = Knowledge{"assumed", "gap formula, straight line of force efficiency"}
	benchTested    = Knowledge{"measured", "bench test of this product"}
)
