package day

import (
	"tideover/internal/calc"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

func sym(name, meaning string, dim quantity.Dim, unit string) calc.Symbol {
	return calc.Symbol{Name: name, Meaning: meaning, Dim: dim, Unit: unit}
}

func pure(name, meaning, unit string) calc.Symbol {
	return calc.Symbol{Name: name, Meaning: meaning, Unit: unit}
}

// What moves a day, and what of it can be worked out by hand.
var (
	// VesselPressureEq is Boyle's law for the gas behind a membrane.
	VesselPressureEq = calc.Register(calc.Equation{
		Key: "vessel-pressure", Section: "Vessels", Title: "Pressure in a vessel with water in it",
		Formula: "p = p_0 V/(V − W)", Result: pure("p", "pressure, absolute", "Pa"),
		Args: []calc.Symbol{
			pure("p_0", "charge of the empty vessel, absolute", "Pa"),
			sym("V", "vessel volume", quantity.VolumeDim, "m³"), sym("W", "water in it", quantity.VolumeDim, "m³"),
		},
		Range: "0 ≤ W < V; slow (isothermal) filling", Source: "Boyle's law",
		Fn: func(a []float64) float64 { return hydraulics.Vessel{Volume: a[1], Charge: a[0]}.Pressure(a[2]) },
	})
	// PowerEq is what a pump takes from the socket.
	PowerEq = calc.Register(calc.Equation{
		Key: "pump-power-line", Section: "Pumps", Title: "Electrical power of a pump at a flow and speed",
		Formula: "P = s³ P_1 (i + (1 − i) q/(s q_1))", Result: sym("P", "electrical power", quantity.PowerDim, "W"),
		Args: []calc.Symbol{
			sym("P_1", "electrical power at q_1, full speed", quantity.PowerDim, "W"),
			sym("q_1", "flow that belongs to", quantity.FlowDim, "m³/s"),
			pure("i", "share taken at no flow", "–"), sym("q", "flow", quantity.FlowDim, "m³/s"), pure("s", "speed over full speed", "–"),
		},
		Range:  "centrifugal pumps; a straight line between no flow and q_1 is an assumption, and so is i",
		Source: "affinity laws: P ∝ N³ at Q ∝ N; the line is this manual's own",
		Fn: func(a []float64) float64 {
			if a[4] <= 0 {
				return 0
			}
			return a[4] * a[4] * a[4] * a[0] * (a[2] + (1-a[2])*a[3]/(a[4]*a[1]))
		},
	})
	// BalanceEq is what integrates between two events.
	BalanceEq = calc.Register(calc.Equation{
		Key: "day-balance", Section: "Day run", Title: "What moves between two events of a day",
		Formula: "A dh/dt = q_f − q_s − q_o;  dW/dt = q_v;  H_v = p(W)/(ρ g) + z_v",
		Result:  pure("h, W", "level of the store, water in the vessel", "m, m³"),
		Range:   "flows q from the steady circuit at this h and H_v (quasi-steady): changes slower than the water's inertia, so seconds and more",
		Source:  "mass balance; integrated by Bogacki & Shampine 1989, Appl. Math. Lett. 2:321, eq. 4, between its steps by the cubic of Hermite",
	})
	// EnergyEq is what the books of energy are held to.
	EnergyEq = calc.Register(calc.Equation{
		Key: "day-energy", Section: "Day run", Title: "Balance of energy over a day",
		Formula: "Σ∫ρ g H q dt (street, stores, vessel) + Σ∫ρ g H_p q dt (pump) = Σ∫ρ g h_e(q) q dt (losses) + Σ∫ρ g z q dt (mouths)",
		Result:  pure("E", "energy", "J"),
		Range:   "held heads on one side, every element's own law on the other: closes only if each solution meets both",
		Source:  "Tellegen 1952, Philips Res. Rep. 7:259",
	})
)
