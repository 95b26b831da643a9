package hydraulics

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

var (
	symKv    = sym("K_v", "flow at a drop of 1 bar", quantity.FlowFactorDim, "m³/s")
	symSpeed = sym("s", "speed over full speed", quantity.RatioDim, "–")
)

// Parts: what a part passes in each of its states.
var (
	SeatLeakEq = calc.Register(calc.Equation{
		Key: "seat-leak", Section: "Fittings and valves", Title: "Flow factor of a seat that no longer shuts tight",
		Formula: "K_l = k K_v",
		Result:  sym("K_l", "flow factor of the leak", quantity.FlowFactorDim, "m³/s"),
		Args:    []calc.Symbol{pure("k", "share that leaks: 0.001 a worn valve, 0.005 a fouled non-return valve", "–"), symKv},
		Range:   "an assumption until the leak is measured with a bucket",
		Source:  "seat leakage classes III and II of IEC 60534-4:2021, taken for parts in a home",
		Fn:      func(a []float64) float64 { return a[0] * a[1] },
	})
	ThreeWayEq = calc.Register(calc.Equation{
		Key: "three-way-between", Section: "Fittings and valves", Title: "Openings of a three-way valve between its positions",
		Formula: "x_1 = 1 − t, x_2 = t",
		Result:  sym("x_2", "opening of the second way", quantity.RatioDim, "–"),
		Args:    []calc.Symbol{sym("t", "turn of the handle, 0 to 1", quantity.RatioDim, "–")},
		Range:   "plugs whose ports neither overlap nor leave a closed middle; an assumption", Source: "geometry of a plug with two ports",
		Fn: func(a []float64) float64 { return a[0] },
	})
	MeterKvEq = calc.Register(calc.Equation{
		Key: "meter-kv", Section: "Fittings and valves", Title: "Flow factor of a water meter",
		Formula: "K_v = Q_3/√(Δp/1 bar)", Result: symKv,
		Args:  []calc.Symbol{sym("Q_3", "permanent flow on the dial", quantity.FlowDim, "m³/s"), sym("Δp", "loss its class allows there", quantity.PressureDim, "Pa")},
		Range: "Δp of the pressure-loss class: 63, 40, 25, 16 or 10 kPa", Source: "ISO 4064-1:2014, pressure-loss classes",
		Fn: func(a []float64) float64 { return a[0] / math.Sqrt(a[1]/1e5) },
	})
	StrainerEq = calc.Register(calc.Equation{
		Key: "dirty-strainer", Section: "Fittings and valves", Title: "Flow factor of a strainer partly blocked",
		Formula: "K_v' = K_v (1 − b)", Result: sym("K_v'", "flow factor as it is", quantity.FlowFactorDim, "m³/s"),
		Args:  []calc.Symbol{symKv, sym("b", "share of the free area blocked", quantity.RatioDim, "–")},
		Range: "0 ≤ b < 1; housing and mesh counted as one", Source: "an orifice's flow goes with its area",
		Fn: func(a []float64) float64 { return a[0] * (1 - a[1]) },
	})
	SeatKvEq = calc.Register(calc.Equation{
		Key: "seat-kv", Section: "Fittings and valves", Title: "Flow factor of a seat at full bore: a float valve broken off",
		Formula: "K_v = 0.7 (π/4) D² √(2·10⁵/1000)", Result: symKv, Args: []calc.Symbol{symBore},
		Range: "0.5 mm to 0.1 m; ±15 %", Source: "Torricelli's orifice law; coefficient 0.7 is assumed",
		Fn: func(a []float64) float64 { return 0.7 * math.Pi / 4 * a[0] * a[0] * math.Sqrt(200) },
	})
	LimiterEq = calc.Register(calc.Equation{
		Key: "flow-limiter", Section: "Fittings and valves", Title: "Head taken by a flow limiter",
		Formula: "h = (10⁵/(1000 g)) (q/K_v)² to q_l; beyond it a wall: 100 m more raise the flow by 0.1 %",
		Result:  symHead, Args: []calc.Symbol{symFlow, symKv, sym("q_l", "its limit", quantity.FlowDim, "m³/s")},
		Range: "ideal; real ones hold ±10 to 15 % between 1 and 8 bar", Source: "IEC 60534-1:2005 for K_v; the wall bends in over 0.01 % of the limit",
		Fn: func(a []float64) float64 {
			h, _ := wall{newQuadratic(0, barHead/(a[1]*a[1])), a[2]}.drop(a[0])
			return h
		},
	})
	ReducerEq = calc.Register(calc.Equation{
		Key: "pressure-reducer", Section: "Fittings and valves", Title: "Pressure reducing valve",
		Formula: "H_up − H_down = T + (10⁵/(1000 g)) (q/K_v)², q ≥ 0, with the T ≥ 0 at which H_down is the set head; T = 0 where even that falls short; q = 0 where H_down is there already",
		Result:  sym("T", "head taken off", quantity.HeadDim, "m"),
		Range:   "feels its own outlet; the set head falls with the flow as its own equation says", Source: "Deuerlein, Simpson & Dempe 2009, J. Hydraul. Eng. 135(11):970",
	})
	RegulatedEq = calc.Register(calc.Equation{
		Key: "regulated-head", Section: "Fittings and valves", Title: "Head a pressure regulator holds at its outlet",
		Formula: "H = H_0 − (Δp_n/(1000 g q_n)) q, while its seat is neither shut nor fully open",
		Result:  sym("H", "head held", quantity.HeadDim, "m"),
		Args: []calc.Symbol{sym("H_0", "set head, with nothing drawn", quantity.HeadDim, "m"), symFlow,
			sym("Δp_n", "fall from standing to nominal flow", quantity.PressureDim, "Pa"), sym("q_n", "nominal flow, 2 m/s in its bore", quantity.FlowDim, "m³/s")},
		Range: "0 to nominal flow; a straight fall, real ones fall faster at first by up to a third of it", Source: "a spring that lets off as the seat opens; nominal flow EN 1567, fall trade knowledge, recalled",
		Fn: func(a []float64) float64 { return a[0] - a[2]/(1000*Gravity)/a[3]*a[1] },
	})
	ReliefEq = calc.Register(calc.Equation{
		Key: "relief-valve", Section: "Fittings and valves", Title: "Head over its mouth at which a relief valve passes a flow",
		Formula: "H = S + m q while it lifts; (10⁵/(1000 g)) (q/K_v)² once fully open at S + b",
		Result:  sym("H", "head over its mouth", quantity.HeadDim, "m"),
		Args:    []calc.Symbol{symFlow, symKv, sym("S", "set head", quantity.HeadDim, "m"), sym("b", "band over which it opens", quantity.HeadDim, "m")},
		Range:   "q > 0; the two pieces are bent into one another", Source: "ISO 4126-1 rates capacity at 10 % over the set pressure; the straight lift is assumed",
		Fn: func(a []float64) float64 {
			e, err := NewRelief("", 0, 1, a[1], a[2], a[3])
			if err != nil {
				return math.NaN()
			}
			h, _ := e.Law.Drop(a[0], 1)
			return a[2] + h
		},
	})
	SwellEq = calc.Register(calc.Equation{
		Key: "thermal-swell", Section: "Water", Title: "How much water grows when heated",
		Formula: "ΔV = V (ρ(t_1)/ρ(t_2) − 1)", Result: sym("ΔV", "growth", quantity.VolumeDim, "m³"),
		Args: []calc.Symbol{
			sym("V", "volume heated", quantity.VolumeDim, "m³"),
			sym("t_1", "temperature before", quantity.TemperatureDim, "°C"), sym("t_2", "temperature after", quantity.TemperatureDim, "°C"),
		},
		Range: "0 to 100 °C", Source: "density by Kell 1975, J. Chem. Eng. Data 20(1):97-105",
		Fn: func(a []float64) float64 { return Swell(a[0], a[1], a[2]) },
	})
)

// Pumps known by little.
var (
	NameplateEq = calc.Register(calc.Equation{
		Key: "nameplate-curve", Section: "Pumps", Title: "Head of a pump known by its nameplate",
		Formula: "H = H_0 (1 − β t − (1 − β) t²), t = q/q_max",
		Result:  sym("H", "head added", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			symFlow, sym("H_0", "greatest head", quantity.HeadDim, "m"), sym("q_max", "greatest flow", quantity.FlowDim, "m³/s"),
			pure("β", "straight share: jet 0.55 (0.45 to 0.63), multistage 0.20 (0.12 to 0.30), peripheral 0.90 (0.80 to 1.00)", "–"),
		},
		Range: "0 ≤ q ≤ q_max; a band, until a gauge and a bucket are read", Source: "three-point quadratic; β fitted to eight reference curves of generic jets and multistage pumps, assumed for peripheral ones",
		Fn: func(a []float64) float64 { t := a[0] / a[2]; return a[1] * (1 - a[3]*t - (1-a[3])*t*t) },
	})
	ReadingEq = calc.Register(calc.Equation{
		Key: "pump-reading", Section: "Pumps", Title: "Shape of a pump's curve from one reading",
		Formula: "β = (1 − t² − h/H_0)/(t − t²), t = q/q_max", Result: pure("β", "straight share", "–"),
		Args: []calc.Symbol{
			symFlow, sym("h", "head read", quantity.HeadDim, "m"),
			sym("H_0", "greatest head", quantity.HeadDim, "m"), sym("q_max", "greatest flow", quantity.FlowDim, "m³/s"),
		},
		Range: "inside the kind's band; outside it the nameplate is scaled instead", Source: "the nameplate curve solved for β",
		Fn: func(a []float64) float64 { t := a[0] / a[3]; return (1 - t*t - a[1]/a[2]) / (t - t*t) },
	})
	PumpPowerEq = calc.Register(calc.Equation{
		Key: "pump-power", Section: "Pumps", Title: "Electrical power of a pump against flow and speed",
		Formula: "P_1 = s³ P_b (i + (1 − i) q/(s q_b))", Result: sym("P_1", "electrical power", quantity.PowerDim, "W"),
		Args: []calc.Symbol{
			symFlow, symSpeed, sym("P_b", "electrical power at the best point", quantity.PowerDim, "W"),
			sym("q_b", "flow of the best point", quantity.FlowDim, "m³/s"),
			pure("i", "power at shut-off over P_b: jet 0.75, multistage 0.55, peripheral 1.6", "–"),
		},
		Range: "shut-off to run-out; i is an assumption", Source: "input power straight in flow (Willans's line); affinity laws",
		Fn: func(a []float64) float64 {
			return PumpPower{Best: a[2], At: a[3], Idle: a[4], Cos: 1}.Power(a[0], a[1])
		},
	})
	SideBySideEq = calc.Register(calc.Equation{
		Key: "pumps-side-by-side", Section: "Pumps", Title: "Head of several pumps alike side by side",
		Formula: "H = A − (B/n) q − (C/n²) q²", Result: sym("H", "head added", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			symFlow, pure("n", "number running", "–"),
			sym("A", "head at no flow", quantity.HeadDim, "m"), pure("B", "first coefficient", "s/m²"), pure("C", "second coefficient", "s²/m⁵"),
		},
		Range: "full speed, each with its own non-return valve", Source: "flows add at one head",
		Fn: func(a []float64) float64 { x := a[0] / a[1]; return a[2] - a[3]*x - a[4]*x*x },
	})
)

// Vessels, overflow, suction, drain-back.
var (
	VesselWaterEq = calc.Register(calc.Equation{
		Key: "vessel-water", Section: "Vessels", Title: "Water in a pressure vessel",
		Formula: "w = V (1 − p_0/p)", Result: sym("w", "water in it", quantity.VolumeDim, "m³"),
		Args: []calc.Symbol{
			sym("V", "vessel volume", quantity.VolumeDim, "m³"), pure("p_0", "charge, absolute", "Pa"), pure("p", "pressure, absolute", "Pa"),
		},
		Range: "p ≥ p_0; below its charge it is empty", Source: "Boyle's law",
		Fn: func(a []float64) float64 { return Vessel{a[0], a[1]}.Water(a[2]) },
	})
	OverflowEq = calc.Register(calc.Equation{
		Key: "overflow", Section: "Overflow", Title: "Flow of a level overflow pipe",
		Formula: "q² T = g A³ at the depth y with E = y + (1 + K + K_s) A/(2 T);  A = D² (θ − sin θ)/8, T = D sin(θ/2), y = D (1 − cos(θ/2))/2",
		Result:  sym("q", "flow", quantity.FlowDim, "m³/s"),
		Args: []calc.Symbol{
			symBore, sym("E", "water over the bottom of the bore", quantity.LengthDim, "m"),
			pure("K", "entry loss: 0 bellmouth, 0.5 cut flush", "–"), pure("K_s", "screen loss", "–"),
		},
		Range: "a short pipe that ends in the air", Source: "critical flow (Belanger 1849; Chow 1959, Open-Channel Hydraulics, ch. 4)",
		Fn: func(a []float64) float64 { return Overflow{a[0], a[2], a[3]}.Flow(a[1]) },
	})
	ScreenEq = calc.Register(calc.Equation{
		Key: "overflow-screen", Section: "Overflow", Title: "Water over the bottom of the bore behind a screen",
		Formula: "q = C f ∫ 2 √(z (D − z)) √(2 g (y − z)) dz from 0 to min(y, D), solved for y; C = 0.62",
		Result:  sym("y", "water over the bottom of the bore", quantity.LengthDim, "m"),
		Args:    []calc.Symbol{symBore, sym("f", "free area of the screen, as a share of the bore's", quantity.RatioDim, "–"), symFlow},
		Range:   "0.01 < f ≤ 10, q up to 1 m³/s; a screen at the end of the pipe", Source: "Torricelli's law over the wetted face; C of sharp holes (Weisbach 1855)",
		Fn: func(a []float64) float64 { y, _ := ScreenHead("", a[0], a[1], a[2]); return y },
	})
	SpillEq = calc.Register(calc.Equation{
		Key: "overflow-head", Section: "Overflow", Title: "Water over the bottom of an overflow's bore while it runs",
		Formula: "h = max(E, y + (1 + K) q²/(2 g A(y)²)) where y is deeper than the pipe's own critical depth, else E; E of the overflow at q, A(y) the bore filled to y",
		Result:  sym("h", "water over the bottom of the bore", quantity.LengthDim, "m"),
		Args:    []calc.Symbol{symBore, pure("K", "entry loss: 0.5 cut flush with the wall", "–"), sym("y", "water the screen needs", quantity.LengthDim, "m"), symFlow},
		Range:   "a short pipe that ends in the air", Source: "critical flow (Chow 1959, ch. 4), energy at the entry",
		Fn: func(a []float64) float64 { return Overflow{Bore: a[0], Entry: a[1]}.Behind(a[2], a[3]) },
	})
	SlotEq = calc.Register(calc.Equation{
		Key: "overflow-slot", Section: "Overflow", Title: "Water over the sill of an open slot",
		Formula: "h = (q / (2/3 C b f √(2 g)))^(2/3); C = 0.6",
		Result:  sym("h", "water over the sill", quantity.LengthDim, "m"),
		Args:    []calc.Symbol{sym("b", "width of the slot", quantity.LengthDim, "m"), sym("f", "free share of the screen over it", quantity.RatioDim, "–"), symFlow},
		Range:   "water falls free behind it and does not reach the top of the slot", Source: "weir formula (Poleni 1717), sharp sill with ends",
		Fn: func(a []float64) float64 { return SlotHead(a[0], a[1], a[2]) },
	})
	BoilingEq = calc.Register(calc.Equation{
		Key: "boiling-head", Section: "Water", Title: "Lowest pressure head water can have",
		Formula: "h_b = (p_v − p_atm)/(ρ g)", Result: sym("h_b", "pressure head, negative", quantity.HeadDim, "m"),
		Args: []calc.Symbol{
			pure("p_v", "vapour pressure, absolute", "Pa"), pure("p_atm", "air pressure, absolute", "Pa"), pure("ρ", "density", "kg/m³"),
		},
		Range: "air comes out of solution before", Source: "hydrostatics; g = 9.80665 m/s²",
		Fn: func(a []float64) float64 { return (a[0] - a[1]) / (a[2] * Gravity) },
	})
	AirInEq = calc.Register(calc.Equation{
		Key: "air-in", Section: "Outlets", Title: "Head at which an open draw-off lets air in",
		Formula: "z − H = (q/(c √(ρ_w/ρ_a)))², √(ρ_w/ρ_a) = 28.87", Result: sym("z − H", "suction under its own height", quantity.HeadDim, "m"),
		Args:  []calc.Symbol{sym("q", "volume of air, as of the water that leaves", quantity.FlowDim, "m³/s"), pure("c", "outlet coefficient", "m^2.5/s")},
		Range: "while water stands at its height; small differences of pressure", Source: "Torricelli's orifice law for two fluids, 1000 and 1.20 kg/m³",
		Fn: func(a []float64) float64 { x := a[0] / (a[1] * airEase); return x * x },
	})
	DrainBackEq = calc.Register(calc.Equation{
		Key: "drain-back", Section: "The main", Title: "Water that can run back to the street",
		Formula: "V = Σ V_e (share of element e above max(H_street, lip_e)) over elements that drain to the street; lip_e = −∞ on a way from air to the street, else the highest point of its lowest way there",
		Result:  sym("V", "water that can run back", quantity.VolumeDim, "m³"),
		Range:   "an upper bound: air must come in, and fine bores hold water that wide ones let fall", Source: "hydrostatics; ways by blocks of the graph (Hopcroft & Tarjan 1973, Commun. ACM 16:372)",
	})
)
