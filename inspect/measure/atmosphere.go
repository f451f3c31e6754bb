package measure

import "math"

// StandardAtmosphere is the pressure of the air at sea level, 1.01325 bar.
const StandardAtmosphere AbsoluteBar = 1.01325

// AtmosphereAt is the pressure of the standard atmosphere at a geopotential
// height of h metres:
//
//	p = 1.01325 bar (1 - 0.0065 h/288.15)^(g M/(R 0.0065)), g 9.80665, M 0.0289644, R 8.31432
//
// (US Standard Atmosphere 1976, ISO 2533; the same up to 11 km). The weather
// moves the true pressure by about ± 2 %. -1000 <= h <= 11000.
func AtmosphereAt(h float64) (AbsoluteBar, error) {
	if !finite(h) || h < -1000 || h > 11000 {
		return 0, refuse("the altitude %v m is outside -1000 to 11000 m: give metres above the sea", h)
	}
	const exponent = 9.80665 * 0.0289644 / (8.31432 * 0.0065)
	return AbsoluteBar(float64(StandardAtmosphere) * math.Pow(1-0.0065*h/288.15, exponent)), nil
}

// Geopotential turns a height z above the sea in metres, as a map gives it, into
// geopotential metres: h = r z/(r + z), r 6356766 m (US Standard Atmosphere
// 1976). At 3000 m the two differ by 1.4 m. -1000 <= z <= 11000.
func Geopotential(z float64) (float64, error) {
	if !finite(z) || z < -1000 || z > 11000 {
		return 0, refuse("the altitude %v m is outside -1000 to 11000 m: give metres above the sea", z)
	}
	const r = 6356766.0
	return r * z / (r + z), nil
}
