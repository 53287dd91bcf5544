package judge

// The findings: every one that a check may give has a row here, and a case in
// findings_test.go that shows how it comes about. A finding with one severity has it
// wherever it comes up; a check names the kind and says the rest.
var (
	MechanicsUnusable = declare(Kind{
		ID: "mechanics-unusable", Point: OnMechanics, Severities: may(Rejects),
		Head:    "the catalog's numbers do not make a valve",
		Meaning: "The catalog's numbers do not make a valve that can be run in this position.", Settles: Maker,
	})

	ServiceOffered = declare(Kind{
		ID: "service", Point: OnService, Severities: may(Pass), Head: "offered for this liquid",
		Meaning: "The maker offers the valve for the liquid.",
	})
	ServiceNotOffered = declare(Kind{
		ID: "service-not-offered", Point: OnService, Severities: may(Rejects),
		Head:    "not offered for this liquid",
		Meaning: "The maker does not offer the valve for the liquid.",
	})

	PositionAllowed = declare(Kind{
		ID: "position", Point: OnPosition, Severities: may(Pass), Head: "allowed in this position",
		Meaning: "The maker allows the valve in the position of the pipe.",
	})
	PositionToConfirm = declare(Kind{
		ID: "position-to-confirm", Point: OnPosition, Severities: may(Confirm), Head: "position not given",
		Meaning: "The position was not given; the usual one is taken.", Settles: SiteVisit,
	})
	PositionNotAllowed = declare(Kind{
		ID: "position-not-allowed", Point: OnPosition, Severities: may(Rejects),
		Head:    "not allowed in this position",
		Meaning: "The maker does not allow the valve in the position of the pipe.",
	})

	ClosesByItself = declare(Kind{
		ID: "closes-by-itself", Point: OnClosing, Severities: may(Pass), Head: "closes by itself",
		Meaning: "Weight, spring or lever closes the valve in this position.",
	})
	DoesNotClose = declare(Kind{
		ID: "does-not-close", Point: OnClosing, Severities: may(Rejects),
		Head:    "does not close in this position",
		Meaning: "Nothing brings the disc or ball back to its seat in this position.",
	})

	SolidsPass = declare(Kind{
		ID: "solids", Point: OnSolids, Severities: may(Pass), Head: "solids pass",
		Meaning: "The clear passage lets the largest sphere through.",
	})
	SolidsToConfirm = declare(Kind{
		ID: "solids-to-confirm", Point: OnSolids, Severities: may(Confirm),
		Head:    "largest solids to be confirmed",
		Meaning: "The clear passage is less than the sphere assumed, which the liquid may not carry.", Settles: Owner,
	})
	SolidsUnknown = declare(Kind{
		ID: "solids-unknown", Point: OnSolids, Severities: may(Condition),
		Head:    "clear passage not in the catalog",
		Meaning: "The catalog gives no clear passage.", Settles: Maker,
	})
	SolidsDoNotPass = declare(Kind{
		ID: "solids-do-not-pass", Point: OnSolids, Severities: may(Rejects), Head: "solids do not pass",
		Meaning: "The clear passage is less than the largest sphere.",
	})

	RagsAccepted = declare(Kind{
		ID: "rags", Point: OnRags, Severities: may(Pass), Head: "rags accepted",
		Meaning: "The maker accepts the rags in the liquid.",
	})
	RagsToConfirm = declare(Kind{
		ID: "rags-to-confirm", Point: OnRags, Severities: may(Confirm), Head: "rags not given",
		Meaning: "Rags were not given for a sewage, and the maker does not accept many.", Settles: Owner,
	})
	RagsUnknown = declare(Kind{
		ID: "rags-unknown", Point: OnRags, Severities: may(Confirm), Head: "rags not in the catalog",
		Meaning: "The catalog does not say how many rags the valve accepts.", Settles: Maker,
	})
	RagsTooMuch = declare(Kind{
		ID: "rags-too-much", Point: OnRags, Severities: may(Rejects), Head: "too many rags",
		Meaning: "The liquid carries more rags than the maker accepts.",
	})

	GritAccepted = declare(Kind{
		ID: "grit", Point: OnGrit, Severities: may(Pass), Head: "grit accepted",
		Meaning: "The maker accepts the grit in the liquid.",
	})
	GritToConfirm = declare(Kind{
		ID: "grit-to-confirm", Point: OnGrit, Severities: may(Confirm), Head: "grit not given",
		Meaning: "Grit was not given for a sewage, and the maker does not accept much.", Settles: Owner,
	})
	GritUnknown = declare(Kind{
		ID: "grit-unknown", Point: OnGrit, Severities: may(Confirm), Head: "grit not in the catalog",
		Meaning: "The catalog does not say how much grit the valve accepts.", Settles: Maker,
	})
	GritTooMuch = declare(Kind{
		ID: "grit-too-much", Point: OnGrit, Severities: may(Condition),
		Head:    "more grit than the maker accepts",
		Meaning: "The liquid carries more grit than the maker accepts: it wears.",
	})

	ElastomerSuits = declare(Kind{
		ID: "elastomer", Point: OnElastomer, Severities: may(Pass), Head: "elastomer suits",
		Meaning: "One of the elastomers offered is good for temperature, oil and grit, or there is none in the flow.",
	})
	ElastomerOilToConfirm = declare(Kind{
		ID: "elastomer-oil-to-confirm", Point: OnElastomer, Severities: may(Confirm),
		Head:    "oil and grease not given",
		Meaning: "Oil and grease were not given for a sewage, and the elastomer bears none.", Settles: Owner,
	})
	ElastomerWears = declare(Kind{
		ID: "elastomer-wears", Point: OnElastomer, Severities: may(Condition),
		Head:    "grit will wear the rubber",
		Meaning: "The elastomer bears temperature and oil; the grit is more than it is good for.",
	})
	ElastomerUnsuitable = declare(Kind{
		ID: "elastomer-unsuitable", Point: OnElastomer, Severities: may(Rejects), Head: "no suitable elastomer",
		Meaning: "None of the elastomers offered bears temperature and oil of the liquid.",
	})

	DrinkingWaterCertified = declare(Kind{
		ID: "drinking-water", Point: OnDrinkingWater, Severities: may(Pass),
		Head:    "certified for drinking water",
		Meaning: "The catalog has the valve certified for drinking water.",
	})
	DrinkingWaterOnRequest = declare(Kind{
		ID: "drinking-water-on-request", Point: OnDrinkingWater, Severities: may(Condition),
		Head:    "drinking-water certificate on request only",
		Meaning: "The valve is certified for drinking water on request only.",
	})
	DrinkingWaterUnknown = declare(Kind{
		ID: "drinking-water-unknown", Point: OnDrinkingWater, Severities: may(Condition),
		Head:    "no drinking-water certificate in the catalog",
		Meaning: "The catalog says nothing about drinking water.", Settles: Maker,
	})
	DrinkingWaterNotCertified = declare(Kind{
		ID: "drinking-water-not-certified", Point: OnDrinkingWater, Severities: may(Rejects),
		Head:    "not certified for drinking water",
		Meaning: "The valve is not certified for drinking water.",
	})

	SulfideHigh = declare(Kind{
		ID: "sulfide", Point: OnSulfide, Severities: may(Condition), Head: "high hydrogen sulfide",
		Meaning: "Hydrogen sulfide is high: coating and bolting must resist it.",
	})

	BackHeadSeals = declare(Kind{
		ID: "back-head", Point: OnBackHead, Severities: may(Pass), Head: "static head seals it",
		Meaning: "The least static head seals the valve.",
	})
	BackHeadToConfirm = declare(Kind{
		ID: "back-head-to-confirm", Point: OnBackHead, Severities: may(Confirm),
		Head:    "static head to be confirmed",
		Meaning: "The low end of the static head does not seal the valve.", Settles: SiteVisit,
	})
	BackHeadUnknown = declare(Kind{
		ID: "back-head-unknown", Point: OnBackHead, Severities: may(Condition),
		Head:    "the back head that seals it is not in the catalog",
		Meaning: "The catalog gives no minimum back head to seal.", Settles: Maker,
	})
	BackHeadTooSmall = declare(Kind{
		ID: "back-head-too-small", Point: OnBackHead, Severities: may(Rejects),
		Head:    "too little back head to seal",
		Meaning: "The least static head does not seal the valve.",
	})

	SlamQuiet = declare(Kind{
		ID: "slam-quiet", Point: OnSlam, Severities: may(Pass), Head: "slam is quiet",
		Meaning: "The worst stop is quiet, or audible in no more than half of the cases.",
	})
	SlamAudible = declare(Kind{
		ID: "slam-audible", Point: OnSlam, Severities: may(Condition), Head: "slam will be heard",
		Meaning: "The worst stop is audible or harmful in more than half of the cases.",
	})
	SlamMayHarm = declare(Kind{
		ID: "slam-may-harm", Point: OnSlam, Severities: may(Condition), Head: "slam may do harm",
		Meaning: "The worst stop is harmful in more than one of twenty cases.",
	})
	SlamHarmful = declare(Kind{
		ID: "slam-harmful", Point: OnSlam, Severities: may(Rejects), Head: "harmful slam",
		Meaning: "The worst stop is harmful in more than half of the cases, or the valve does not come to rest.",
	})
	SlamNotRun = declare(Kind{
		ID: "slam-not-run", Point: OnSlam, Severities: may(Open), Head: "slam was not run",
		Meaning: "No stop of the station could be run with this valve.", Settles: Measurement,
	})
	SlamLater = declare(Kind{
		ID: "slam-later", Point: OnSlam, Severities: may(Note), Head: "closes more than once",
		Meaning: "The valve opens again after its first closing.",
	})
	SlamNoRest = declare(Kind{
		ID: "slam-no-rest", Point: OnSlam, Severities: may(Note), Head: "does not come to rest",
		Meaning: "The last closings are at least twice as hard as the first.",
	})
	SlamNotResolved = declare(Kind{
		ID: "slam-not-resolved", Point: OnSlam, Severities: may(Note), Head: "later slams not resolved",
		Meaning: "Two grids do not agree on later slams; the worse of the two is taken.",
	})
	SlamSample = declare(Kind{
		ID: "slam-sample", Point: OnSlam, Severities: may(Note), Head: "closing depends on small differences",
		Meaning: "The ends of the likely range are known only roughly.",
	})
	SlamRunsFailed = declare(Kind{
		ID: "slam-runs-failed", Point: OnSlam, Severities: may(Confirm), Head: "runs without a closing",
		Meaning: "Some runs with other values inside their ranges gave no closing.", Settles: Measurement,
	})
	EventNotRun = declare(Kind{
		ID: "event-not-run", Point: OnSlam, Severities: may(Confirm), Head: "a stop that was not run",
		Meaning: "A stop of the station could not be run with this valve.", Settles: Measurement,
	})
	RunNote = declare(Kind{
		ID: "run-note", Point: OnSlam, Severities: may(Note), Head: "note on the worst stop",
		Meaning: "What the run of the worst stop left out or took in a simpler way.",
	})

	RatingHolds = declare(Kind{
		ID: "rating", Point: OnRating, Severities: may(Pass), Head: "rating holds pump shut-off",
		Meaning: "The rating of valve and ends is above the pressure at pump shut-off.",
	})
	RatingUnknown = declare(Kind{
		ID: "rating-unknown", Point: OnRating, Severities: may(Condition),
		Head:    "no pressure rating in the catalog",
		Meaning: "The catalog gives no pressure rating.", Settles: Maker,
	})
	RatingBelowCalled = declare(Kind{
		ID: "rating-below-called", Point: OnRating, Severities: may(Rejects),
		Head:    "rating below the one specified",
		Meaning: "The rating of valve and ends is below the one specified.",
	})
	RatingTooLow = declare(Kind{
		ID: "rating-too-low", Point: OnRating, Severities: may(Rejects), Head: "rating below pump shut-off",
		Meaning: "The rating of valve and ends is below the pressure at pump shut-off.",
	})

	SurgeValveRating = declare(Kind{
		ID: "surge-valve-rating", Point: OnSurge, Severities: may(Condition),
		Head:    "surge above the valve's rating",
		Meaning: "The greatest pressure of all stops and starts is above the rating of valve and ends.",
	})
	SurgeBranchRating = declare(Kind{
		ID: "surge-branch-rating", Point: OnSurge, Severities: may(Condition),
		Head:    "surge above the branch's rating",
		Meaning: "The greatest pressure of all stops and starts is above the rating of the branch with its surge allowance.",
	})
	SurgeMainRating = declare(Kind{
		ID: "surge-main-rating", Point: OnSurge, Severities: may(Condition),
		Head:    "surge above the main's rating",
		Meaning: "The greatest pressure of all stops and starts is above the rating of the main with its surge allowance.",
	})
	ColumnSeparation = declare(Kind{
		ID: "column-separation", Point: OnSurge, Beyond: true, Severities: may(Note), Head: "column separation",
		Meaning: "The main falls to vapor pressure in a stop or start: a risk to the station whatever the valve.",
	})

	PumpBeyondCurve = declare(Kind{
		ID: "pump-beyond-curve", Point: OnPump, Beyond: true, Severities: may(Condition, Confirm),
		Head:    "the pump runs beyond its curve",
		Meaning: "An operating point lies beyond the end of the pump's curve: flow, power and stops there are drawn on, not known.", Settles: Maker,
	})
	MotorOverload = declare(Kind{
		ID: "motor-overload", Point: OnPump, Beyond: true, Severities: may(Condition, Confirm),
		Head:    "the motor is too small",
		Meaning: "The pump takes more power at the shaft than its motor is rated for.", Settles: Maker,
	})

	VelocityFullOpen = declare(Kind{
		ID: "velocity-full-open", Point: OnVelocity, Severities: may(Pass),
		Head:    "held full open at normal flow",
		Meaning: "Normal velocity holds the disc or ball full open, or parked clear of the flow.",
	})
	VelocityToConfirm = declare(Kind{
		ID: "velocity-to-confirm", Point: OnVelocity, Severities: may(Confirm),
		Head:    "normal flow to be confirmed",
		Meaning: "The low end of the normal velocity is below the full-open velocity.", Settles: Measurement,
	})
	VelocityBelowFullOpen = declare(Kind{
		ID: "velocity-below-full-open", Point: OnVelocity, Severities: may(Condition),
		Head:    "not fully open at normal flow",
		Meaning: "Normal velocity is below the full-open velocity: the disc or ball flutters and wears.",
	})
	VelocityLeastTooLow = declare(Kind{
		ID: "velocity-least-too-low", Point: OnVelocity, Severities: may(Condition),
		Head:    "far from full open at least flow",
		Meaning: "The least velocity is far below the full-open velocity.",
	})
	VelocityTooHigh = declare(Kind{
		ID: "velocity-too-high", Point: OnVelocity, Severities: may(Condition), Head: "the velocity is high",
		Meaning: "The greatest velocity is above what is usual for pump piping.",
	})
	VelocityUnknown = declare(Kind{
		ID: "velocity-unknown", Point: OnVelocity, Severities: may(Open), Head: "no normal flow",
		Meaning: "The pumps do not deliver at the normal point with this valve.", Settles: Measurement,
	})

	LossTold = declare(Kind{
		ID: "loss", Point: OnLoss, Severities: may(Note), Head: "head loss",
		Meaning: "The head that the valve takes at normal flow.",
	})
	LossLarge = declare(Kind{
		ID: "loss-large", Point: OnLoss, Severities: may(Condition), Head: "large head loss",
		Meaning: "The valve takes a large share of the pump head at normal flow.",
	})

	LineSize = declare(Kind{
		ID: "size", Point: OnSize, Severities: may(Pass), Head: "line size",
		Meaning: "The valve has the size of the pipe.",
	})
	SizeDiffers = declare(Kind{
		ID: "size-differs", Point: OnSize, Severities: may(Condition), Head: "not the pipe's size",
		Meaning: "The valve needs a reducer and an increaser.",
	})

	StraightEnough = declare(Kind{
		ID: "straight", Point: OnStraight, Severities: may(Pass), Head: "straight pipe upstream",
		Meaning: "There is as much straight pipe upstream as the valve asks for.",
	})
	StraightUnknown = declare(Kind{
		ID: "straight-unknown", Point: OnStraight, Severities: may(Confirm),
		Head:    "straight pipe upstream not given",
		Meaning: "The straight pipe upstream of the valve was not given.", Settles: SiteVisit,
	})
	StraightTooShort = declare(Kind{
		ID: "straight-too-short", Point: OnStraight, Severities: may(Condition),
		Head:    "too little straight pipe upstream",
		Meaning: "There is less straight pipe upstream than the valve asks for.",
	})

	ClearanceEnough = declare(Kind{
		ID: "clearance", Point: OnClearance, Severities: may(Pass), Head: "clearance above the valve",
		Meaning: "Cover and element can be lifted out.",
	})
	ClearanceUnknown = declare(Kind{
		ID: "clearance-unknown", Point: OnClearance, Severities: may(Confirm), Head: "clearance not given",
		Meaning: "The clearance above the valve was not given.", Settles: SiteVisit,
	})
	ClearanceTooSmall = declare(Kind{
		ID: "clearance-too-small", Point: OnClearance, Severities: may(Condition),
		Head:    "too little clearance above it",
		Meaning: "Cover and element cannot be lifted out in place.",
	})

	InWetWell = declare(Kind{
		ID: "in-wet-well", Point: OnPlace, Severities: may(Condition), Head: "it would be in the wet well",
		Meaning: "A valve in the wet well cannot be serviced.",
	})

	LayingLengthFits = declare(Kind{
		ID: "laying-length", Point: OnLayingLength, Severities: may(Pass), Head: "fits the gap",
		Meaning: "The face-to-face length is that of the gap in the pipe.",
	})
	LayingLengthUnknown = declare(Kind{
		ID: "laying-length-unknown", Point: OnLayingLength, Severities: may(Confirm),
		Head:    "face-to-face length not in the catalog",
		Meaning: "The catalog gives no laying length.", Settles: Maker,
	})
	LayingLengthTooLong = declare(Kind{
		ID: "laying-length-too-long", Point: OnLayingLength, Severities: may(Condition),
		Head:    "too long for the gap",
		Meaning: "The valve is longer than the gap in the pipe.",
	})
	LayingLengthGap = declare(Kind{
		ID: "laying-length-gap", Point: OnLayingLength, Severities: may(Condition),
		Head:    "shorter than the gap",
		Meaning: "The valve is shorter than the gap in the pipe.",
	})

	LiftingTold = declare(Kind{
		ID: "lifting", Point: OnLifting, Severities: may(Note), Head: "weight of the heaviest part",
		Meaning: "One person may lift the heaviest part under the best conditions.",
	})
	LiftingUnknown = declare(Kind{
		ID: "lifting-unknown", Point: OnLifting, Severities: may(Confirm), Head: "weights not in the catalog",
		Meaning: "The catalog gives no weights of cover and element.", Settles: Maker,
	})
	LiftingPlan = declare(Kind{
		ID: "lifting-plan", Point: OnLifting, Severities: may(Condition),
		Head:    "parts too heavy for one person",
		Meaning: "The heaviest part is more than one person may lift.",
	})

	Indicated = declare(Kind{
		ID: "indication", Point: OnIndication, Severities: may(Pass), Head: "position indicator",
		Meaning: "The position of the disc or ball can be seen from outside.",
	})
	NotIndicated = declare(Kind{
		ID: "no-indication", Point: OnIndication, Severities: may(Note), Head: "no position indicator",
		Meaning: "The position of the disc or ball cannot be seen from outside.",
	})

	RulesDiffer = declare(Kind{
		ID: "rules-differ", Point: OnRules, Severities: may(Note), Head: "the rules differ",
		Meaning: "Two rule packs of the station set different limits on one point.", Settles: Owner,
	})

	CostTold = declare(Kind{
		ID: "cost", Point: OnCost, Severities: may(Note), Head: "annual energy cost",
		Meaning: "The energy that the head loss costs per year.",
	})
	CostUnknown = declare(Kind{
		ID: "cost-unknown", Point: OnCost, Severities: may(Note), Head: "energy not worked out",
		Meaning: "The pump curve gives no efficiency at this flow.",
	})
)
