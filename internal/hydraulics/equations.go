package hydraulics

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// sym is a symbol with its dimension; pure is one without.
func sym(name, meaning string, dim quantity.Dim, unit string) calc.Symbol {
	return calc.Symbol{Name: name, Meaning: meaning, Dim: dim, Unit: unit}
}

func pure(name, meaning, unit string) calc.Symbol {
	return calc.Symbol{Name: name, Meaning: meaning, Unit: unit}
}

var (
	symTemperature = sym("t", "water temperature", quantity.TemperatureDim, "°C")
	symFlow        = sym("q", "flow", quantity.FlowDim, "m³/s")
	symVelocity    = sym("V", "mean velocity", quantity.VelocityDim, "m/s")
	symBore        = sym("D", "inside diameter", quantity.LengthDim, "m")
	symHead        = sym("h", "head lost", quantity.HeadDim, "m")
	symViscosity   = pure("ν", "kinematic viscosity", "m²/s")
	symReynolds    = pure("Re", "Reynolds number", "–")
)

// Water.
var (
	DensityEq = calc.Register(calc.Equation{
		Key: "water-density", Section: "Water", Title: "Density of water",
		Formula: "ρ = (999.83952 + 16.945176 t − 7.9870401e-3 t² − 46.170461e-6 t³ + 105.56302e-9 t⁴ − 280.54253e-12 t⁵)/(1 + 16.879850e-3 t)",
		Result:  pure("ρ", "density", "kg/m³"), Args: []calc.Symbol{symTemperature},
		Range: "0 to 100 °C, at one atmosphere", Source: "Kell 1975, J. Chem. Eng. Data 20(1):97-105, eq. 16",
		Fn: func(a []float64) float64 { return Density(a[0]) },
	})
	ViscosityEq = calc.Register(calc.Equation{
		Key: "water-viscosity", Section: "Water", Title: "Kinematic viscosity of water",
		Formula: "ν = 1e-6 (280.68 x^−1.9 + 511.45 x^−7.7 + 61.131 x^−19.6 + 0.45903 x^−40)/ρ(t), x = (t + 273.15)/300",
		Result:  symViscosity, Args: []calc.Symbol{symTemperature},
		Range:  "0 to 100 °C, at 0.1 MPa",
		Source: "IAPWS SR6-08(2011), viscosity of liquid water at 0.1 MPa; density by Kell 1975",
		Fn:     func(a []float64) float64 { return KinematicViscosity(a[0]) },
	})
	VapourPressureEq = calc.Register(calc.Equation{
		Key: "vapour-pressure", Section: "Water", Title: "Pressure at which water boils, absolute",
		Formula: "ln(p_v/p_c) = (T_c/T)(−7.85951783 v + 1.84408259 v^1.5 − 11.7866497 v³ + 22.6807411 v^3.5 − 15.9618719 v⁴ + 1.80122502 v^7.5), v = 1 − T/T_c, T = t + 273.15, T_c = 647.096 K, p_c = 22.064 MPa",
		Result:  pure("p_v", "vapour pressure, absolute", "Pa"), Args: []calc.Symbol{symTemperature},
		Range:  "0.01 to 373 °C",
		Source: "Wagner & Pruss 1993, J. Phys. Chem. Ref. Data 22:783, eq. 1",
		Fn:     func(a []float64) float64 { return VapourPressure(a[0]) },
	})
	AtmosphereEq = calc.Register(calc.Equation{
		Key: "atmosphere", Section: "Water", Title: "Air pressure at an altitude, absolute",
		Formula: "p_atm = 101325 (1 − 2.25577e-5 z)^5.25588",
		Result:  pure("p_atm", "air pressure, absolute", "Pa"),
		Args:    []calc.Symbol{sym("z", "altitude above the sea", quantity.LengthDim, "m")},
		Range:   "−1000 to 11000 m; weather moves it by ±3 %", Source: "ISO 2533:1975, Standard Atmosphere",
		Fn: func(a []float64) float64 { return Atmosphere(a[0]) },
	})
	HeadOfPressureEq = calc.Register(calc.Equation{
		Key: "head-of-pressure", Section: "Water", Title: "Head of a gauge pressure at a height",
		Formula: "H = p/(ρ g) + z",
		Result:  sym("H", "head above the datum", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			sym("p", "gauge pressure", quantity.PressureDim, "Pa"),
			pure("ρ", "density", "kg/m³"),
			sym("z", "height of the gauge above the datum", quantity.LengthDim, "m"),
		},
		Range: "water at rest, or with its velocity head left out", Source: "hydrostatics (Pascal 1663); g = 9.80665 m/s²",
		Fn: func(a []float64) float64 { return a[0]/(a[1]*Gravity) + a[2] },
	})
)

// Pipes.
var (
	VelocityEq = calc.Register(calc.Equation{
		Key: "velocity", Section: "Pipes", Title: "Mean velocity in a full pipe",
		Formula: "V = 4 q/(π D²)", Result: symVelocity, Args: []calc.Symbol{symFlow, symBore},
		Range: "full pipe", Source: "continuity",
		Fn: func(a []float64) float64 { return 4 * a[0] / (math.Pi * a[1] * a[1]) },
	})
	VelocityHeadEq = calc.Register(calc.Equation{
		Key: "velocity-head", Section: "Pipes", Title: "Velocity head",
		Formula: "h_v = V²/(2 g)", Result: sym("h_v", "velocity head", quantity.HeadDim, "m"),
		Args: []calc.Symbol{symVelocity}, Range: "any", Source: "Torricelli; g = 9.80665 m/s²",
		Fn: func(a []float64) float64 { return a[0] * a[0] / (2 * Gravity) },
	})
	ReynoldsEq = calc.Register(calc.Equation{
		Key: "reynolds", Section: "Pipes", Title: "Reynolds number",
		Formula: "Re = V D/ν", Result: symReynolds, Args: []calc.Symbol{symVelocity, symBore, symViscosity},
		Range: "any", Source: "Reynolds 1883, Phil. Trans. R. Soc. 174:935",
		Fn: func(a []float64) float64 { return a[0] * a[1] / a[2] },
	})
	FrictionEq = calc.Register(calc.Equation{
		Key: "friction-factor", Section: "Pipes", Title: "Friction factor (Darcy)",
		Formula: "f = 64/Re to Re 2000; 1/√f = −2 log₁₀(ε/(3.7 D) + 2.51/(Re √f)) from 4000; between, a cubic in f Re² that meets both with their slopes",
		Result:  pure("f", "Darcy friction factor", "–"),
		Args:    []calc.Symbol{symReynolds, sym("ε", "roughness", quantity.LengthDim, "m"), symBore},
		Range:   "ε/D to 0.05; 20 % uncertain in the bridge, where the flow itself is unsteady",
		Source:  "Colebrook 1939, J. Inst. Civ. Eng. 11:133; bridge after Fritsch & Carlson 1980, SIAM J. Numer. Anal. 17:238",
		Fn:      func(a []float64) float64 { return DarcyFactor(a[0], a[1]/a[2]) },
	})
	DarcyEq = calc.Register(calc.Equation{
		Key: "darcy-loss", Section: "Pipes", Title: "Head lost to friction along a pipe",
		Formula: "h = f (L/D) V²/(2 g)", Result: symHead,
		Args: []calc.Symbol{
			pure("f", "Darcy friction factor", "–"), sym("L", "length", quantity.LengthDim, "m"),
			symBore, symVelocity,
		},
		Range: "full, steady flow", Source: "Weisbach 1845, Lehrbuch der Ingenieur- und Maschinen-Mechanik",
		Fn: func(a []float64) float64 { return a[0] * a[1] / a[2] * a[3] * a[3] / (2 * Gravity) },
	})
)

// Fittings and valves.
var (
	TwoKEq = calc.Register(calc.Equation{
		Key: "two-k-loss", Section: "Fittings and valves", Title: "Head lost in fittings",
		Formula: "h = (K₁/Re + K∞ (1 + 25.4 mm/D)) V²/(2 g)", Result: symHead,
		Args: []calc.Symbol{
			pure("K₁", "loss at Re = 1", "–"), pure("K∞", "loss of a large fitting at high Re", "–"),
			symReynolds, symBore, symVelocity,
		},
		Range: "one fitting or the sum of several on one bore; ±30 %", Source: "Hooper 1981, Chem. Eng. 88(17):96",
		Fn: func(a []float64) float64 {
			return (a[0]/a[2] + a[1]*(1+0.0254/a[3])) * a[4] * a[4] / (2 * Gravity)
		},
	})
	KvDropEq = calc.Register(calc.Equation{
		Key: "kv-drop", Section: "Fittings and valves", Title: "Head lost in a part with a flow factor",
		Formula: "h = (10⁵/(1000 g)) (q/K_v)²", Result: symHead,
		Args:  []calc.Symbol{symFlow, sym("K_v", "flow at a drop of 1 bar", quantity.FlowFactorDim, "m³/s")},
		Range: "turbulent; drops above 0.1 mm", Source: "IEC 60534-1:2005; g = 9.80665 m/s²",
		Fn: func(a []float64) float64 { return barHead * (a[0] / a[1]) * (a[0] / a[1]) },
	})
	OpeningEq = calc.Register(calc.Equation{
		Key: "valve-opening", Section: "Fittings and valves", Title: "Flow factor of a part-open valve",
		Formula: "K_v(x) = K_v xⁿ",
		Result:  sym("K_v(x)", "flow factor at the opening", quantity.FlowFactorDim, "m³/s"),
		Args: []calc.Symbol{
			sym("K_v", "flow factor fully open", quantity.FlowFactorDim, "m³/s"),
			sym("x", "opening", quantity.RatioDim, "–"),
			pure("n", "characteristic: 1 float and three-way valves, 2 hand valves", "–"),
		},
		Range:  "0 < x ≤ 1; an assumption, within a factor 2 of tabled gate valves",
		Source: "this manual; compared with the usual K of gate valves at 3/4, 1/2, 1/4",
		Fn:     func(a []float64) float64 { return a[0] * math.Pow(a[1], a[2]) },
	})
	FloatOpeningEq = calc.Register(calc.Equation{
		Key: "float-opening", Section: "Fittings and valves", Title: "Opening of a float valve",
		Formula: "x = min(1, max(0, (h_s − h)/b))",
		Result:  sym("x", "opening", quantity.RatioDim, "–"),
		Args: []calc.Symbol{
			sym("h", "water level", quantity.LengthDim, "m"),
			sym("h_s", "level at which it is shut", quantity.LengthDim, "m"),
			sym("b", "band of level in which it closes", quantity.LengthDim, "m"),
		},
		Range: "direct-acting lever valves; not delayed-action ones", Source: "geometry of the lever",
		Fn: func(a []float64) float64 { return FloatOpening(a[0], a[1], a[2]) },
	})
	NonReturnEq = calc.Register(calc.Equation{
		Key: "non-return", Section: "Fittings and valves", Title: "Non-return valve as one strictly increasing law",
		Formula: "h = h_o + (10⁵/(1000 g)) (q/K_v)² for q ≥ 0;  h = h_o + 10¹⁴ q for q < 0",
		Result:  symHead, Args: []calc.Symbol{
			symFlow, sym("K_v", "flow at a drop of 1 bar", quantity.FlowFactorDim, "m³/s"),
			sym("h_o", "opening head", quantity.HeadDim, "m"),
		},
		Range: "steady flow; in the answer nothing passes backward at all", Source: "Deuerlein, Simpson & Dempe 2009, J. Hydraul. Eng. 135(11):970",
	})
)

// Pumps.
var (
	PumpHeadEq = calc.Register(calc.Equation{
		Key: "pump-curve", Section: "Pumps", Title: "Head a pump adds at a flow and speed",
		Formula: "H = s² A − s B q − C q²", Result: sym("H", "head added", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			symFlow, sym("s", "speed over full speed", quantity.RatioDim, "–"),
			sym("A", "head at no flow, full speed", quantity.HeadDim, "m"), pure("B", "first coefficient", "s/m²"), pure("C", "second coefficient", "s²/m⁵"),
		},
		Range: "strictly falling curves; q ≥ 0", Source: "quadratic through three points with the affinity laws (Karassik et al., Pump Handbook, 4th ed. 2008)",
		Fn: func(a []float64) float64 { return a[1]*a[1]*a[2] - a[1]*a[3]*a[0] - a[4]*a[0]*a[0] },
	})
	AffinityEq = calc.Register(calc.Equation{
		Key: "affinity-head", Section: "Pumps", Title: "Shut-off head at another speed",
		Formula: "H₀(s) = s² H₀", Result: sym("H₀(s)", "shut-off head at the speed", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			sym("H₀", "shut-off head at full speed", quantity.HeadDim, "m"), sym("s", "speed over full speed", quantity.RatioDim, "–"),
		},
		Range: "s from 0.5 to 1 in practice", Source: "affinity laws: Q ∝ N, H ∝ N², P ∝ N³",
		Fn: func(a []float64) float64 { return a[1] * a[1] * a[0] },
	})
	NPSHEq = calc.Register(calc.Equation{
		Key: "npsh-available", Section: "Pumps", Title: "Net positive suction head a pump has",
		Formula: "NPSH = (p_atm − p_v)/(ρ g) + H_s − z_p",
		Result:  sym("NPSH", "net positive suction head", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			pure("p_atm", "air pressure, absolute", "Pa"), pure("p_v", "vapour pressure, absolute", "Pa"), pure("ρ", "density", "kg/m³"),
			sym("H_s", "head at the suction flange above the datum (water level less losses)", quantity.HeadDim, "m"),
			sym("z_p", "height of the pump above the datum", quantity.LengthDim, "m"),
		},
		Range: "heads of water at rest or steady", Source: "ISO 9906:2012, definition of NPSH; keep 0.5 to 1 m over what the pump needs",
		Fn: func(a []float64) float64 { return (a[0]-a[1])/(a[2]*Gravity) + a[3] - a[4] },
	})
	HydraulicPowerEq = calc.Register(calc.Equation{
		Key: "hydraulic-power", Section: "Pumps", Title: "Power given to the water",
		Formula: "P = ρ g q H", Result: sym("P", "hydraulic power", quantity.PowerDim, "W"),
		Args:  []calc.Symbol{pure("ρ", "density", "kg/m³"), symFlow, sym("H", "head added", quantity.HeadDim, "m")},
		Range: "any", Source: "energy balance; g = 9.80665 m/s²",
		Fn: func(a []float64) float64 { return a[0] * Gravity * a[1] * a[2] },
	})
	WirePowerEq = calc.Register(calc.Equation{
		Key: "wire-power", Section: "Pumps", Title: "Electrical power a pump takes",
		Formula: "P_1 = P/η", Result: sym("P_1", "electrical power", quantity.PowerDim, "W"),
		Args:  []calc.Symbol{sym("P", "hydraulic power", quantity.PowerDim, "W"), sym("η", "wire-to-water efficiency", quantity.RatioDim, "–")},
		Range: "η at the flow considered", Source: "definition of efficiency",
		Fn: func(a []float64) float64 { return a[0] / a[1] },
	})
)

// Vessels.
var (
	DrawdownEq = calc.Register(calc.Equation{
		Key: "vessel-drawdown", Section: "Vessels", Title: "Water a pressure vessel gives between cut-out and cut-in",
		Formula: "V_d = V p_0 (1/p_1 − 1/p_2)", Result: sym("V_d", "drawdown", quantity.VolumeDim, "m³"),
		Args: []calc.Symbol{
			sym("V", "vessel volume", quantity.VolumeDim, "m³"), pure("p_0", "charge of the empty vessel, absolute", "Pa"),
			pure("p_1", "cut-in, absolute", "Pa"), pure("p_2", "cut-out, absolute", "Pa"),
		},
		Range: "p_0 ≤ p_1 < p_2; slow (isothermal) filling", Source: "Boyle's law",
		Fn: func(a []float64) float64 { return a[0] * a[1] * (1/a[2] - 1/a[3]) },
	})
	DischargeEq = calc.Register(calc.Equation{
		Key: "vessel-discharge", Section: "Vessels", Title: "Water a vessel gives when it is drawn from quickly",
		Formula: "V_d = V p_0/p_2 ((p_2/p_1)^(1/n) − 1)", Result: sym("V_d", "what it gives from cut-out to cut-in", quantity.VolumeDim, "m³"),
		Args: []calc.Symbol{
			sym("V", "vessel volume", quantity.VolumeDim, "m³"), pure("p_0", "charge of the empty vessel, absolute", "Pa"),
			pure("p_1", "cut-in, absolute", "Pa"), pure("p_2", "cut-out, absolute", "Pa"),
			pure("n", "exponent of the gas: 1 slow, 1.2 over minutes, 1.4 over seconds", "–"),
		},
		Range:  "p_0 ≤ p_1 < p_2, 1 ≤ n ≤ 1.4; the gas is as warm as the air when it begins; n = 1 is vessel-drawdown",
		Source: "polytropic gas, n from 1.0 to 1.4 and 1.2 for want of better (Wylie & Streeter 1993, Fluid Transients in Systems, section 6.3)",
		Fn:     func(a []float64) float64 { return a[0] * a[1] / a[3] * (math.Pow(a[3]/a[2], 1/a[4]) - 1) },
	})
	CyclingEq = calc.Register(calc.Equation{
		Key: "worst-cycling", Section: "Vessels", Title: "Most starts an hour a draw can make",
		Formula: "n = 3600 q/(4 V_d)", Result: pure("n", "starts an hour", "1/h"),
		Args:   []calc.Symbol{sym("q", "flow of the pump between cut-in and cut-out", quantity.FlowDim, "m³/s"), sym("V_d", "drawdown", quantity.VolumeDim, "m³")},
		Range:  "steady draw of half the pump's flow, which is the worst; pump flow taken as constant",
		Source: "balance of one cycle: V_d/(q − d) + V_d/d, least at d = q/2",
		Fn:     func(a []float64) float64 { return 3600 * a[0] / (4 * a[1]) },
	})
)

// Outlets and the main.
var (
	OutletCoefficientEq = calc.Register(calc.Equation{
		Key: "outlet-coefficient", Section: "Outlets", Title: "Coefficient of a draw-off from one rated flow",
		Formula: "c = q_n/√h_n", Result: pure("c", "outlet coefficient", "m^2.5/s"),
		Args:  []calc.Symbol{sym("q_n", "rated flow", quantity.FlowDim, "m³/s"), sym("h_n", "head it is rated at", quantity.HeadDim, "m")},
		Range: "orifice-like outlets", Source: "Torricelli's orifice law; rated at 3 bar as EN 200 groups taps",
		Fn: func(a []float64) float64 { return a[0] / math.Sqrt(a[1]) },
	})
	MainLossEq = calc.Register(calc.Equation{
		Key: "main-loss", Section: "The main", Title: "Sag of the main at a flow",
		Formula: "d = a q + b q²", Result: sym("d", "sag of head at the meter", quantity.HeadDim, "m"),
		Args:  []calc.Symbol{symFlow, pure("a", "linear part", "s/m²"), pure("b", "square part", "s²/m⁵")},
		Range: "inside the flows tested; beyond them a guess", Source: "fit to a flow test at two rates",
		Fn: func(a []float64) float64 { return a[1]*a[0] + a[2]*a[0]*a[0] },
	})
	MainFitEq = calc.Register(calc.Equation{
		Key: "main-fit", Section: "The main", Title: "Square part of the main's sag from a flow test at two rates",
		Formula: "b = (d_2/q_2 − d_1/q_1)/(q_2 − q_1), a = d_1/q_1 − b q_1; where one would be negative it is 0 and the other the least-squares fit",
		Result:  pure("b", "square part", "s²/m⁵"), Args: fitArgs,
		Range: "0 < q_1 < q_2, sags not negative", Source: "Lawson & Hanson 1974, Solving Least Squares Problems, ch. 23",
		Fn: func(a []float64) float64 { _, b := FitMain(a[0], a[1], a[2], a[3]); return b },
	})
	MainFitLinearEq = calc.Register(calc.Equation{
		Key: "main-fit-linear", Section: "The main", Title: "Linear part of the main's sag from a flow test at two rates",
		Formula: "a = d_1/q_1 − b q_1, not negative (see the square part)",
		Result:  pure("a", "linear part", "s/m²"), Args: fitArgs,
		Range: "0 < q_1 < q_2, sags not negative", Source: "Lawson & Hanson 1974, Solving Least Squares Problems, ch. 23",
		Fn: func(a []float64) float64 { l, _ := FitMain(a[0], a[1], a[2], a[3]); return l },
	})
	fitArgs = []calc.Symbol{
		sym("q_1", "lower test flow", quantity.FlowDim, "m³/s"), sym("d_1", "sag at it", quantity.HeadDim, "m"),
		sym("q_2", "higher test flow", quantity.FlowDim, "m³/s"), sym("d_2", "sag at it", quantity.HeadDim, "m"),
	}
)

// Solving: documented here, solved in the engine.
var (
	BalanceEq = calc.Register(calc.Equation{
		Key: "balances", Section: "Solving", Title: "What a steady state is",
		Formula: "Σ q into a free point = 0;  H_from − H_to = h_e(q_e) for every element;  q ≥ 0 and H_from − H_to ≤ h_e(0) where a one-way element is shut",
		Result:  pure("q, H", "flows and heads", "m³/s, m"),
		Range:   "strictly increasing laws: then flows are unique, and heads wherever water is joined to a held head",
		Source:  "Todini & Pilati 1988, in Computer Applications in Water Supply 1:1-20; Collins et al. 1978, Manage. Sci. 24:747",
	})
	CoContentEq = calc.Register(calc.Equation{
		Key: "co-content", Section: "Solving", Title: "Why the damped form cannot fail",
		Formula: "Φ(H) = Σ ∫₀^Δ q_e(δ) dδ, Δ = H_from − H_to;  ∂Φ/∂H_i = flow out of point i",
		Result:  pure("Φ", "co-content", "m⁴/s"),
		Range:   "convex for increasing laws: Newton that never lets Φ rise converges from any start",
		Source:  "Millar 1951, Phil. Mag. 42:1150; Cherry 1951, Phil. Mag. 42:1161; Collins et al. 1978",
	})
)
