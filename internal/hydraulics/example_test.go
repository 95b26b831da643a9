package hydraulics_test

import (
	"fmt"

	"tideover/internal/hydraulics"
)

// White, Fluid Mechanics, example 6.9: water in 200 ft of 6 in pipe, roughness 0.0008 of
// the bore, loses 4.5 ft. Printed: 6.046 ft/s, with 32.2 ft/s² for gravity and a chart.
func ExampleNet_Solve() {
	const ft = 0.3048
	pipe, err := hydraulics.NewPipe("pipe", hydraulics.PipeSpec{
		Bore: 0.5 * ft, Length: 200 * ft, Roughness: 0.0008 * 0.5 * ft, Viscosity: 1.1e-5 * ft * ft,
	})
	if err != nil {
		panic(err)
	}
	net, err := hydraulics.NewNet(
		[]hydraulics.Point{{Name: "upstream", Held: true}, {Name: "downstream", Held: true}},
		[]hydraulics.Element{{Name: "pipe", From: 0, To: 1, Law: pipe}},
	)
	if err != nil {
		panic(err)
	}
	state, answer := net.NewState(), net.NewAnswer()
	state.Held[0] = 4.5 * ft
	if err := net.Solve(state, answer, net.NewWork()); err != nil {
		panic(err)
	}
	fmt.Printf("%.2f ft/s, certified %v\n", pipe.Velocity(answer.Flow[0])/ft, answer.Cert.OK())
	// Output: 6.04 ft/s, certified true
}
