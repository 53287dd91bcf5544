package fluid

import (
	"fmt"
	"math"

	"seatward/quantity"
)

// The lowest layer of the standard atmosphere, ISO 2533:1975.
const (
	seaLevelPa    = 101325.0
	seaLevelK     = 288.15
	lapseKM       = 0.0065
	airConstant   = 287.05287 // J/(kg K)
	earthRadiusM  = 6356766.0
	minElevationM = -2000.0
	maxElevationM = 11000.0
)

// AtmospherePa returns the absolute pressure of the standard atmosphere in Pa
// at elevationM in m above mean sea level:
//
//	p = 101325 Pa (1 - 0.0065 H/288.15)^(g/(0.0065 R)),  H = r z/(r + z)
//
// z elevation, H the geopotential height in m, r = 6 356 766 m the Earth's
// nominal radius, R = 287.05287 J/(kg K), g = 9.80665 m/s².
//
// Valid from -2000 m to 11 000 m; anything else is an error that wraps
// ErrRange. Weather moves the pressure by 3 % either way about this mean.
// Source: ISO 2533:1975, Standard Atmosphere (constants from memory).
func AtmospherePa(elevationM float64) (float64, error) {
	if !(elevationM >= minElevationM && elevationM <= maxElevationM) {
		return 0, fmt.Errorf("atmosphere at an elevation of %.6g m: %w: -2000 to 11000 m", elevationM, ErrRange)
	}
	height := earthRadiusM * elevationM / (earthRadiusM + elevationM)
	exponent := quantity.StandardGravity / (lapseKM * airConstant)
	return seaLevelPa * math.Pow(1-lapseKM*height/seaLevelK, exponent), nil
}
