package hydraulics

import "math"

// Density returns the density of air-free water at atmospheric pressure [kg/m³].
//
// t is the temperature [°C], valid 0 to 100. Accuracy about 0.01 kg/m³ to 40 °C.
// Source: Kell 1975, J. Chem. Eng. Data 20(1):97-105, eq. 16.
func Density(t float64) float64 {
	n := 999.83952 + t*(16.945176+t*(-7.9870401e-3+t*(-46.170461e-6+t*(105.56302e-9-t*280.54253e-12))))
	return n / (1 + 16.879850e-3*t)
}

// Viscosity returns the dynamic viscosity of liquid water at 0.1 MPa [Pa s].
//
// t is the temperature [°C], valid -20 to 110. Accuracy 1 % at worst, 0.2 % at 0 to 60.
// Source: IAPWS SR6-08(2011), liquid water at 0.1 MPa, viscosity equation.
func Viscosity(t float64) float64 {
	x := (t + 273.15) / 300
	return 1e-6 * (280.68*math.Pow(x, -1.9) + 511.45*math.Pow(x, -7.7) +
		61.131*math.Pow(x, -19.6) + 0.45903*math.Pow(x, -40))
}

// KinematicViscosity returns Viscosity over Density [m²/s]; t [°C], valid 0 to 100.
func KinematicViscosity(t float64) float64 { return Viscosity(t) / Density(t) }

// VapourPressure returns the saturation pressure of water, absolute [Pa].
//
// t is the temperature [°C], valid 0.01 to 373. Accuracy better than 0.1 %.
// Source: Wagner & Pruss 1993, J. Phys. Chem. Ref. Data 22:783, eq. 1 (IAPWS SR1-86).
func VapourPressure(t float64) float64 {
	const tc, pc = 647.096, 22.064e6
	k := t + 273.15
	v := 1 - k/tc
	s := math.Sqrt(v)
	v3 := v * v * v
	sum := -7.85951783*v + 1.84408259*v*s - 11.7866497*v3 +
		22.6807411*v3*s - 15.9618719*v3*v + 1.80122502*v3*v3*v*s
	return pc * math.Exp(tc/k*sum)
}

// Atmosphere returns the mean air pressure at a height above the sea [Pa].
//
// z is the altitude [m], valid -1000 to 11000. Weather moves it by ±3 %.
// Source: ISO 2533:1975, Standard Atmosphere, troposphere.
func Atmosphere(z float64) float64 {
	return 101325 * math.Pow(1-2.25577e-5*z, 5.25588)
}
