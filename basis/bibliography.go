package basis

import "strings"

// Marks for numbers without a printed source. They are said wherever the number is shown.
const (
	CommonPractice = "common-practice" // a rule of thumb of the trade
	FromMemory     = "from-memory"     // a standard's number that was not re-read
	DerivedHere    = "derived"         // first principles; the derivation stands in the code
	OwnChoice      = "own-choice"      // picked by this program where nothing is published
)

// bibliography gives each source its full title. A Ref is a key, and may carry the
// place after a space: "wylie-streeter-1993 ch. 2".
var bibliography = map[string]string{
	CommonPractice: "common practice, no source",
	FromMemory:     "from memory, not re-read",
	DerivedHere:    "derived from first principles by Seatward; equation in the calculation",
	OwnChoice:      "choice of this program, no source",

	"iapws-if97":          "IAPWS R7-97(2012), Industrial Formulation 1997 for the Thermodynamic Properties of Water and Steam",
	"iapws-r12-08":        "IAPWS R12-08, Formulation 2008 for the Viscosity of Ordinary Water Substance",
	"iso-2533":            "ISO 2533:1975, Standard Atmosphere",
	"colebrook-1939":      "Colebrook C.F., Turbulent flow in pipes, J. Inst. Civil Engineers 11, 1939",
	"hazen-williams-1905": "Williams G.S. and Hazen A., Hydraulic Tables, 1905; SI form V = 0.849 C R^0.63 S^0.54",
	"wylie-streeter-1993": "Wylie E.B. and Streeter V.L., Fluid Transients in Systems, Prentice Hall, 1993",
	"chaudhry-2014":       "Chaudhry M.H., Applied Hydraulic Transients, 3rd ed., Springer, 2014",
	"thorley-2004":        "Thorley A.R.D., Fluid Transients in Pipeline Systems, 2nd ed., 2004",
	"linton-1979":         "Linton P., BHRA Technical Note 455, 1979, as used in a later engineering note (the note itself not seen)",
	"joukowsky-1898":      "Joukowsky N., Über den hydraulischen Stoss in Wasserleitungsröhren, 1898",
	"tp410":               "Technical Paper 410, Flow of Fluids through Valves, Fittings and Pipe, 2009 ed.",
	"hi-edb":              "Hydraulic Institute, Engineering Data Book",
	"ballun-2007":         "Ballun J.V., A methodology for predicting check valve slam, J. AWWA 99(3), 2007",
	"sanks":               "Jones G.M., Sanks R.L. et al., Pumping Station Design, Table B-7",
	"clift-1978":          "Clift R., Grace J.R. and Weber M.E., Bubbles, Drops and Particles, 1978",
	"achenbach-1974":      "Achenbach E., J. Fluid Mechanics 65, 1974, as fitted in Clift, Grace and Weber, 1978",
	"gent-1958":           "Gent A.N., On the relation between indentation hardness and Young's modulus, 1958",
	"kalsi-tullis-1993":   "Kalsi M.S. and Tullis J.P., 1993, as quoted in environmental engineering handbooks",
	"lamb":                "Lamb H., Hydrodynamics, 6th ed., 1932",
	"iec-60534-2-1":       "IEC 60534-2-1:2011, Industrial-process control valves, flow capacity",
	"nema-mg1":            "NEMA MG 1, Motors and Generators",
	"awwa-c150":           "ANSI/AWWA C150/A21.50, Thickness Design of Ductile-Iron Pipe",
	"awwa-c151":           "ANSI/AWWA C151/A21.51-17, Ductile-Iron Pipe, Centrifugally Cast",
	"awwa-c104":           "ANSI/AWWA C104/A21.4, Cement-Mortar Lining",
	"awwa-c900":           "ANSI/AWWA C900-16, PVC Pressure Pipe",
	"awwa-c906":           "ANSI/AWWA C906-15, Polyethylene Pressure Pipe",
	"asme-b36.10":         "ASME B36.10M-2018, Welded and Seamless Wrought Steel Pipe",
	"iso-2531":            "ISO 2531:1998 and EN 545:2007, Ductile iron pipes, class K9",
	"ten-states":          "Recommended Standards for Wastewater Facilities, 2014 ed.",
	"awwa-m11":            "AWWA Manual M11, Steel Water Pipe",
	"niosh-1994":          "NIOSH 94-110, Applications Manual for the Revised Lifting Equation",
	"disc-computation":    "large-eddy and potential-flow computation of a generic swing check body: computed for this project, not measured",
	"pocket-computation":  "large-eddy computation of a generic inclined-pocket ball body: computed for this project, not measured",
	"moser-folkman":       "Moser A.P. and Folkman S., Buried Pipe Design, 3rd ed.",
	"ppi-handbook":        "Plastics Pipe Institute, Handbook of Polyethylene Pipe, 2nd ed.",
	"tm-5-813-9":          "US Army TM 5-813-9, Water Supply: Pumping Stations, 1992",
	"asme-b16.1":          "ASME B16.1, Gray Iron Pipe Flanges and Flanged Fittings",
	"asme-b16.5":          "ASME B16.5, Pipe Flanges and Flanged Fittings",
	"asme-b16.10":         "ASME B16.10-2017, Face-to-Face and End-to-End Dimensions of Valves",
	"asme-b16.42":         "ASME B16.42, Ductile Iron Pipe Flanges and Flanged Fittings",
	"en-558":              "EN 558:2008 and ISO 5752, Face-to-face dimensions of metal valves",
	"en-1092-2":           "EN 1092-2, Circular flanges, cast iron",
	"api-594":             "API 594, Check Valves: Flanged, Lug, Wafer, and Butt-Welding",
	"hi-9.6.6":            "ANSI/HI 9.6.6, Rotodynamic Pumps for Pump Piping",
	"michaud-1878":        "Michaud J., Coups de bélier dans les conduites, 1878",
}

// Cite prints a reference in full. A key that is not in the bibliography is a
// citation already and is printed as it stands.
func Cite(ref string) string {
	key, place, _ := strings.Cut(ref, " ")
	full, ok := bibliography[key]
	if !ok {
		return ref
	}
	if place != "" {
		return full + ", " + place
	}
	return full
}

// Cited is true when the reference's key stands in the bibliography.
func Cited(ref string) bool {
	key, _, _ := strings.Cut(ref, " ")
	_, ok := bibliography[key]
	return ok
}
