package pipe

import (
	"math"
	"strings"
)

// rating is what a standard lets a pipe carry.
type rating struct {
	workingPa, recurringPa, occasionalPa float64
	rule, source                         string
}

// ratingC151 adds the 100 psi surge allowance of AWWA C150 to the pressure
// class. A special thickness class has no pressure of its own: it gets what the
// thickness rule of C150 gives back, up to the highest class, 350 psi:
//
//	P_w = S (t - 0.08 in - casting tolerance)/D - 100 psi,  S = 42 000 psi
//
// from t = 2 (P_w + 100) D/(2 · 42 000) with its allowances.
func ratingC151(r row) rating {
	out := rating{
		rule: "pressure class, plus the surge allowance of 100 psi in its thickness", source: "awwa-c150",
	}
	psi := r.number
	if strings.HasPrefix(r.class, "CL") {
		out.rule = "back-calculated from the AWWA C150 thickness rule, at most 350 psi, plus its surge allowance of 100 psi; flanges (250 psi in AWWA C115) may govern"
		psi = math.Min(350, math.Floor(c150PressurePa(r.wallM, r.odM, castingToleranceM(r.dn))/psiPa))
	}
	out.workingPa = psi * psiPa
	out.recurringPa = out.workingPa + surgeAllowancePsi*psiPa
	out.occasionalPa = out.recurringPa
	return out
}

// c150PressurePa is the working pressure that a ductile iron wall carries by
// AWWA C150: a safety factor of 2 on the yield of 42 000 psi, a service
// allowance of 0.08 in and a surge allowance of 100 psi.
func c150PressurePa(wallM, odM, toleranceM float64) float64 {
	return (42000*(wallM-0.08*inchM-toleranceM)/odM - surgeAllowancePsi) * psiPa
}

const surgeAllowancePsi = 100

// castingToleranceM is that of AWWA C150 (from memory; it reproduces every
// wall of the table seen).
func castingToleranceM(dn int) float64 {
	switch {
	case dn <= 200:
		return 0.05 * inchM
	case dn <= 300:
		return 0.06 * inchM
	case dn <= 1050:
		return 0.07 * inchM
	case dn <= 1200:
		return 0.08 * inchM
	default:
		return 0.09 * inchM
	}
}

// ratingEN545 is the allowable operating pressure of EN 545 and its 20 % for
// surge (from memory). That of a K class follows from its wall; that of a C
// class is its number in bar.
func ratingEN545(r row) rating {
	bar := r.number
	rule := "allowable operating pressure PFA; PMA = 1.2 PFA with surge; flanges and joints may govern"
	if strings.HasPrefix(r.class, "K") {
		const safety, strengthMPa = 3.0, 420.0
		least := r.wallM/mmM - castingToleranceMM(r.dn)
		if r.wallM/mmM <= 6 {
			least = r.wallM/mmM - 1.3
		}
		bar = math.Min(64, math.Floor(20*least*strengthMPa/((r.odM/mmM-least)*safety)))
		rule = "PFA = 20 e_min R_m/(D SF) bar, R_m = 420 MPa, SF = 3, at most 64 bar; PMA = 1.2 PFA with surge; flanges and joints may govern"
	}
	return rating{bar * barPa, 1.2 * bar * barPa, 1.2 * bar * barPa, rule, "EN 545 sec. 4.3 and annex A, from memory"}
}

// pressureClassPsi are the printed pressure classes of AWWA C900-16,
// 4000/(DR - 1) rounded down to 5 psi.
func pressureClassPsi(dr float64) float64 { return math.Floor(4000/(dr-1)/5+1e-9) * 5 }

func ratingC900(r row) rating {
	pc := pressureClassPsi(r.number) * psiPa
	return rating{
		pc, pc, 1.6 * pc,
		"pressure class 4000/(DR-1) psi at 73 °F, no surge in it: recurring surge within the class (and a fatigue check), occasional within 1.6 of it; less when warmer",
		"awwa-c900",
	}
}

// ratingC900Old is that of AWWA C900-97 and earlier: the class has the surge of
// a sudden stop from 2 ft/s in it, at a safety factor of 2.5 on 4000 psi.
func ratingC900Old(r row) rating {
	dr := r.odM / r.wallM
	total := 2 * 4000 / (2.5 * (dr - 1)) * psiPa
	return rating{
		r.number * psiPa, total, total,
		"class of the 1997 edition with the surge of a stop from 2 ft/s in it: 3200/(DR-1) psi in all at 73 °F",
		"AWWA C900-97",
	}
}

// ratingD1785 is that of PVC 1120 at 73 °F, 2 S t/(D - t) with S = 2000 psi, rounded to 10 psi as
// the standard's appendix prints it. The standard says nothing of surge: none is allowed above it.
func ratingD1785(r row) rating {
	pc := 10 * math.Round(2*2000*r.wallM/(r.odM-r.wallM)/10) * psiPa
	return rating{
		pc, pc, pc,
		"2 S t/(D-t), S = 2000 psi, of PVC 1120 at 73 °F, solvent cemented or plain; no surge above it; threads halve it (from memory); less when warmer",
		"ASTM D1785 appendix X1",
	}
}

// ratingC906 is that of PE4710 at 80 °F: 2 HDS/(DR-1), HDS = 1000 psi.
func ratingC906(r row) rating {
	pc := math.Floor(2000/(r.number-1)+1e-9) * psiPa
	return rating{
		pc, 1.5 * pc, 2 * pc,
		"pressure class 2000/(DR-1) psi of PE4710 at 80 °F; recurring surge to 1.5, occasional to 2.0 times it; less when warmer (from memory)",
		"awwa-c906",
	}
}

// ratingM11 takes the hoop stress of AWWA M11, half the yield at working
// pressure and three quarters with surge, for steel of 35 000 psi yield.
func ratingM11(r row) rating {
	hoop := func(share float64) float64 { return 2 * share * 35000 * psiPa * r.wallM / r.odM }
	return rating{
		hoop(0.5), hoop(0.75), hoop(0.75),
		"ASME B36.10 gives none: AWWA M11 hoop stress, 50 % of an assumed yield of 35,000 psi, 75 % with surge (from memory); flanges and corrosion may govern",
		"awwa-m11",
	}
}
