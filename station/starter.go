package station

import (
	"strings"

	"seatward/quantity"
)

// Starter is a commented station file to begin with, in the units of the system. It
// resolves as it stands.
func Starter(sys quantity.System) string {
	pick := func(us, si string) string {
		if sys == quantity.US {
			return us
		}
		return si
	}
	return strings.NewReplacer(
		"{units}", sys.String(),
		"{flow}", pick("450 gpm", "28 L/s"), "{head}", pick("62 ft", "19 m"), "{static}",
		pick("38..42 ft", "11.5..13 m"),
		"{size}", pick("6 in", "DN150"), "{solids}", pick("3 in", "80 mm"), "{temperature}", pick("60 °F", "15 °C"),
		"{straight}", pick("3 ft", "0.9 m"), "{clearance}", pick("30 in", "760 mm"),
		"{curve}", pick("[[0 gpm, 90 ft], [300 gpm, 76 ft], [450 gpm, 62 ft], [700 gpm, 34 ft]]",
			"[[0 L/s, 27 m], [18 L/s, 23 m], [28 L/s, 19 m], [44 L/s, 10 m]]"),
		"{speed}", pick("1760 rpm", "1465 rpm"), "{inertia}", pick("5 lb ft2 ± 20 %", "0.21 kg m2 ± 20 %"),
		"{high}", pick("8 ft", "2.4 m"), "{low}", pick("4 ft", "1.2 m"), "{out}", pick("46 ft", "14 m"),
		"{blen}", pick("20 ft", "6 m"), "{mlen}", pick("3400 ft", "1040 m"), "{msize}", pick("8 in", "DN200"),
		"{mclass}", pick("PC350", "K9"), "{point}",
		pick("[0 ft, 10 ft], [3400 ft, 45 ft]", "[0 m, 3 m], [1040 m, 13.7 m]"),
	).Replace(starterText)
}

const starterText = `# A station file for seatward. Every line but the first is optional: what is not
# known is estimated, and the answer lists each estimate with its range.
# Write quantities with their unit, and ranges as 12..15 L/s or 0.5 kg m2 ± 20 %.
station: My lift station
units: {units}

fluid:
  kind: raw sewage          # raw sewage, sludge, effluent, raw water, drinking water
  temperature: {temperature}
  solids: {solids}              # largest sphere that must pass
  rags: light               # none, light, heavy
  grit: some                # none, some, heavy
  oil: trace                # none, trace, heavy

duty:                       # enough for a first call
  flow: {flow}             # of one pump running alone
  head: {head}
  static_head: {static}    # level to level, at high and low level

valve:
  size: {size}
  position: flow up         # horizontal, flow up, flow down
  straight_before: {straight}
  clearance: {clearance}

# With these the answer is that of a layout. Remove duty.static_head when you give
# levels, and duty.head when you give a curve.
#
# pumps:
#   - name: P1
#     count: 2
#     speed: {speed}
#     curve: {curve}
#     submersible: yes        # it decides how fast the pump runs down
#     inertia: {inertia}
# levels: {wet_well_high: {high}, wet_well_low: {low}, outlet: {out}}
# branch:
#   runs:
#     - {material: ductile iron, size: {size}, length: {blen}, fittings: {90 elbow: 2, gate valve: 1}}
# main:
#   runs:
#     - {material: ductile iron, class: {mclass}, size: {msize}, length: {mlen}}
#   profile: [{point}]
# operation: {running_time_per_year: 2200 h, tariff: 0.14 /kWh}
# rule_packs: [ten-states]   # rules that bind here; see: seatward rules --packs
`
