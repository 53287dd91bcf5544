package catalog

import "seatward/internal/yamlfile"

// Form names the form of a catalog file. It changes only when a file that was legal no longer is.
const Form = "seatward.catalog/1"

// File is a catalog file as written: one maker's families, with where the data
// come from. Several files of one maker and version make one catalog.
type File struct {
	Maker    yamlfile.Word `yaml:"maker" need:"true" doc:"Maker's name"`
	Version  yamlfile.Word `yaml:"version" need:"true" doc:"Version of the data"`
	Date     yamlfile.Word `yaml:"date" need:"true" doc:"Date of the data, year-month-day"`
	Source   yamlfile.Word `yaml:"source" need:"true" doc:"Where the data come from"`
	Licence  yamlfile.Word `yaml:"licence" need:"true" doc:"Licence of the data"`
	Invented yamlfile.Word `yaml:"invented" one:"yes|no" doc:"yes for data made up for demonstration"`
	Families []FamilyFile  `yaml:"families" doc:"Product families"`

	Measured []MeasuredFile `yaml:"measured" doc:"Measured curves of families that stand in other files, each with its family"`
}

// FamilyFile is one product family.
type FamilyFile struct {
	ID            yamlfile.Word   `yaml:"id" need:"true" doc:"Short name, letters, digits and dashes"`
	Title         yamlfile.Word   `yaml:"title" need:"true" doc:"Name as printed"`
	Type          yamlfile.Word   `yaml:"type" need:"true" doc:"Valve type, a key of the valve types that Seatward knows"`
	Summary       yamlfile.Word   `yaml:"summary" doc:"One sentence"`
	Services      []yamlfile.Word `yaml:"services" one:"raw sewage|sludge|effluent|raw water|drinking water" need:"true" doc:"Fluids that the maker offers it for"`
	Positions     []yamlfile.Word `yaml:"positions" one:"horizontal|flow up|flow down" need:"true" doc:"Positions that the maker allows"`
	FullBore      yamlfile.Word   `yaml:"full_bore" one:"yes|no" doc:"Flow area never less than the pipe's"`
	Rags          yamlfile.Word   `yaml:"rags" one:"none|light|heavy" doc:"Greatest rag load that the maker accepts"`
	Grit          yamlfile.Word   `yaml:"grit" one:"none|some|heavy" doc:"Greatest grit load that the maker accepts"`
	Oil           yamlfile.Word   `yaml:"oil" one:"none|trace|heavy" doc:"Greatest oil load, if the maker limits it beyond the elastomer"`
	DrinkingWater yamlfile.Word   `yaml:"drinking_water" one:"certified|on request|no" doc:"Certified for drinking water"`
	Body          MaterialFile    `yaml:"body" doc:"Body and cover"`
	Element       MaterialFile    `yaml:"element" doc:"Ball, disc, flap or plates"`
	Seat          MaterialFile    `yaml:"seat" doc:"Seat"`
	Bolting       MaterialFile    `yaml:"bolting" doc:"Cover bolting"`
	Coating       MaterialFile    `yaml:"coating" doc:"Coating inside and outside"`
	Elastomers    []yamlfile.Word `yaml:"elastomers" one:"NBR|EPDM|FKM|CR|NR|HNBR|polyurethane|none" need:"true" doc:"Elastomers offered, the usual one first"`
	Ends          []EndFile       `yaml:"ends" need:"true" doc:"End connections"`
	LengthBy      yamlfile.Word   `yaml:"face_to_face_standard" one:"ASME B16.10 Class 125|ASME B16.10 Class 150|EN 558 series 10|EN 558 series 48|API 594 Class 125|own" doc:"Standard that the face-to-face lengths follow as far as it has the size; own for the maker's own lengths"`
	ShellTest     yamlfile.Num    `yaml:"shell_test_factor" min:"1" doc:"Shell test pressure over rated pressure"`
	SeatTest      yamlfile.Num    `yaml:"seat_test_factor" min:"0" doc:"Seat test pressure over rated pressure"`
	BackHead      []BackHeadFile  `yaml:"least_back_head" doc:"Minimum back head to seal, by position"`
	StraightUp    yamlfile.Num    `yaml:"straight_before_diameters" min:"0" doc:"Straight pipe required upstream, in diameters"`
	StraightDown  yamlfile.Num    `yaml:"straight_after_diameters" min:"0" doc:"Straight pipe required downstream, in diameters"`
	Spares        []yamlfile.Word `yaml:"spares" doc:"Spare parts"`
	Indication    yamlfile.Word   `yaml:"position_indication" one:"none|external lever|limit switch" doc:"How one sees from outside where the element stands"`
	Standards     []yamlfile.Word `yaml:"standards" doc:"Standards that the maker declares"`
	Variants      []VariantFile   `yaml:"variants" doc:"Choices that change the mechanics, such as ball density or lever weight"`
	Common        []yamlfile.Pair `yaml:"mechanics" doc:"Mechanical data that hold for all sizes, keys of the valve type"`
	Options       []OptionFile    `yaml:"options" doc:"What else can be chosen, beside size, position, variant, ends and elastomer"`
	Rules         []RuleFile      `yaml:"rules" doc:"Which choices go together"`
	Sizes         []SizeFile      `yaml:"sizes" need:"true" doc:"Sizes made"`
	Measured      []MeasuredFile  `yaml:"measured" doc:"Measured curves, which replace the computed ones"`
}

// MaterialFile is a material with its standard and grade.
type MaterialFile struct {
	Material yamlfile.Word `yaml:"material" doc:"Material in plain words"`
	Standard yamlfile.Word `yaml:"standard" doc:"Standard and grade"`
}

// EndFile is one kind of end connection.
type EndFile struct {
	ID       yamlfile.Word `yaml:"id" doc:"Short name for rules and orders; made of the standard where left out"`
	Standard yamlfile.Word `yaml:"standard" need:"true" doc:"Flange or thread standard and class"`
	Rating   yamlfile.Q    `yaml:"rating" kind:"pressure" min:">0" doc:"Pressure rating of the end"`
	Least    yamlfile.Size `yaml:"from" doc:"Smallest size"`
	Most     yamlfile.Size `yaml:"to" doc:"Largest size"`
}

// BackHeadFile is the least sealing head in one position.
type BackHeadFile struct {
	Position yamlfile.Word `yaml:"position" one:"horizontal|flow up|flow down" need:"true" doc:"Position"`
	Head     yamlfile.Q    `yaml:"head" kind:"head" min:"0" need:"true" doc:"Minimum back head to seal"`
	Source   yamlfile.Word `yaml:"source" doc:"Where the number comes from"`
}

// VariantFile is a choice that changes the mechanics.
type VariantFile struct {
	ID        yamlfile.Word   `yaml:"id" need:"true" doc:"Short name"`
	Title     yamlfile.Word   `yaml:"title" need:"true" doc:"Name as printed"`
	Positions []yamlfile.Word `yaml:"positions" one:"horizontal|flow up|flow down" doc:"Positions, where fewer than the family's"`
	Mechanics []yamlfile.Pair `yaml:"mechanics" doc:"Mechanical data of this variant"`
}

// SizeFile is one size of a family.
type SizeFile struct {
	Size       yamlfile.Size   `yaml:"size" need:"true" doc:"Nominal size"`
	FaceToFace yamlfile.Q      `yaml:"face_to_face" kind:"diameter" min:">0" doc:"Laying length"`
	Height     yamlfile.Q      `yaml:"cover_clearance" kind:"diameter" min:"0" doc:"Height above the axis needed to lift cover and element out"`
	Mass       yamlfile.Q      `yaml:"mass" kind:"mass" min:">0" doc:"Mass of the valve"`
	Element    yamlfile.Q      `yaml:"element_mass" kind:"mass" min:">0" doc:"Mass of ball, disc, flap or plates, as lifted; follows from the mechanics where left out"`
	Cover      yamlfile.Q      `yaml:"cover_mass" kind:"mass" min:"0" doc:"Mass of the cover"`
	Rating     yamlfile.Q      `yaml:"rating" kind:"pressure" min:">0" need:"true" doc:"Pressure rating at room temperature"`
	Bore       yamlfile.Q      `yaml:"bore" kind:"diameter" min:">0" need:"true" doc:"Bore on which velocity and loss are based"`
	Passage    yamlfile.Q      `yaml:"passage" kind:"diameter" min:"0" doc:"Largest sphere that passes"`
	Flow       yamlfile.Q      `yaml:"flow_coefficient" kind:"flow coefficient" min:">0" doc:"Cv or Kv with the element fully open; gives the mechanics its full_open_loss"`
	Price      yamlfile.Num    `yaml:"price" min:"0" doc:"List price, in the user's currency; leave out where not published"`
	Mechanics  []yamlfile.Pair `yaml:"mechanics" doc:"Mechanical data of this size, keys of the valve type"`
}

// OptionFile is something that can be chosen.
type OptionFile struct {
	ID      yamlfile.Word `yaml:"id" need:"true" doc:"Short name, small letters, digits and underscores, as rules use it"`
	Title   yamlfile.Word `yaml:"title" need:"true" doc:"Name as printed"`
	Part    yamlfile.Word `yaml:"part" doc:"Line of the bill of materials that a choice fills: body, element, seat, bolting, coating, or a part of its own"`
	Choices []ChoiceFile  `yaml:"choices" need:"true" doc:"What can be chosen, the usual one first"`
}

// ChoiceFile is one choice of an option.
type ChoiceFile struct {
	ID            yamlfile.Word   `yaml:"id" need:"true" doc:"Short name, as rules and orders use it"`
	Title         yamlfile.Word   `yaml:"title" doc:"Name as printed; the ID where left out"`
	Material      yamlfile.Word   `yaml:"material" doc:"Material that the part is then made of"`
	Standard      yamlfile.Word   `yaml:"standard" doc:"Its standard and grade"`
	Mass          yamlfile.Q      `yaml:"mass" kind:"mass" doc:"What it adds to the mass of the valve"`
	Rating        yamlfile.Q      `yaml:"rating" kind:"pressure" min:">0" doc:"Pressure rating, where it limits that of the valve"`
	DrinkingWater yamlfile.Word   `yaml:"drinking_water" one:"certified|on request|no" doc:"Certified for drinking water"`
	Spares        []yamlfile.Word `yaml:"spares" doc:"Spare parts that it brings"`
	Standards     []yamlfile.Word `yaml:"standards" doc:"Standards that the maker declares for it"`
}

// RuleFile is a condition that a legal configuration meets.
type RuleFile struct {
	Require yamlfile.Word `yaml:"require" need:"true" doc:"Condition in CEL that must hold; it may speak of size (DN), nps (inches), position, variant, ends, elastomer, service, temperature (deg C), pressure (bar) and every option"`
	Message yamlfile.Word `yaml:"message" need:"true" doc:"What is not possible, in plain words"`
	Reason  yamlfile.Word `yaml:"reason" need:"true" doc:"Why, after the word because"`
	Source  yamlfile.Word `yaml:"source" doc:"Where the rule comes from; the catalog where left out"`
}

// MeasuredFile is one measured curve.
type MeasuredFile struct {
	Kind     yamlfile.Word    `yaml:"kind" one:"loss against opening|opening against velocity|force against opening|force against opening in reverse flow|reverse velocity against deceleration" need:"true" doc:"What was measured"`
	Size     yamlfile.Size    `yaml:"size" need:"true" doc:"Size tested"`
	Variant  yamlfile.Word    `yaml:"variant" doc:"Variant tested"`
	Position yamlfile.Word    `yaml:"position" one:"horizontal|flow up|flow down" doc:"Position tested"`
	Source   yamlfile.Word    `yaml:"source" need:"true" doc:"Laboratory, report and date"`
	Licence  yamlfile.Word    `yaml:"licence" need:"true" doc:"Licence of the data"`
	Loss     []yamlfile.Tuple `yaml:"loss" kind:"number,number" doc:"Points [opening 0 to 1, loss coefficient]"`
	Opening  []yamlfile.Tuple `yaml:"opening" kind:"velocity,number" doc:"Points [velocity, opening 0 to 1]"`
	Force    []yamlfile.Tuple `yaml:"force" kind:"number,number" doc:"Points [opening 0 to 1, force on the held element over half the density, the square of the velocity and that of the bore; for a turning element its torque, over the cube of the bore]"`
	Closing  []yamlfile.Tuple `yaml:"closing" kind:"acceleration,velocity" doc:"Points [deceleration, reverse velocity]"`

	Family yamlfile.Word    `yaml:"family" doc:"Family tested, where the curve does not stand in it"`
	Errors []yamlfile.Tuple `yaml:"errors" kind:"acceleration,velocity" min:"0" doc:"For each point of a closing curve half its 95 % interval [deceleration, reverse velocity]"`
	Method yamlfile.Word    `yaml:"method" doc:"How it was measured"`
}
