package assembly

import (
	"fmt"

	"pgregory.net/rapid"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

func val[T ~float64](x float64) quantity.Val[T] { return quantity.Val[T]{V: T(x)} }

// randomJob draws a job that a person could mean: any arrangement, any rows of the
// catalogue, one to sixty outlets.
func randomJob(t *rapid.T, c *catalogue.Catalogue) *job.Job {
	key := func(label, table string, more ...string) string {
		return rapid.SampledFrom(append(c.Keys(table), more...)).Draw(t, label)
	}
	length := func(label string, low, high float64) quantity.Val[quantity.Length] {
		return val[quantity.Length](rapid.Float64Range(low, high).Draw(t, label))
	}
	sizes, fresh := make([]quantity.Size, 0, len(c.Pipes)), make([]quantity.Size, 0, len(c.Pipes))
	for _, k := range c.Keys("pipes") {
		s, _ := quantity.ParseSize(k)
		if sizes = append(sizes, s); !catalogue.AsFound(s) {
			fresh = append(fresh, s)
		}
	}
	size := func(label string) quantity.Size {
		from := sizes
		if label == "outdoors" || label == "indoors" { // new pipe
			from = fresh
		}
		return rapid.SampledFrom(from).Draw(t, label)
	}

	j := &job.Job{Units: "metric"}
	j.Supply.Pipe, j.Supply.Length = size("service"), length("service length", 1, 300)
	j.Supply.Meter = key("meter", "meters", "none", "unknown")
	j.Supply.StopTap = key("stop tap", "stop-valves", "none", "unknown")
	j.Supply.Check = key("check", "non-returns", "none", "unknown")
	j.Home.Level = length("level", -20, 60)
	j.Home.Heater = key("heater", "heaters", "none", "unknown")
	for i := range rapid.IntRange(1, 60).Draw(t, "outlets") {
		j.Outlets = append(j.Outlets, job.Outlet{Tag: fmt.Sprintf("tap-%d", i+1), Kind: key("kind", "outlets"),
			Height: length("height", 0, 30), Distance: length("distance", 0.5, 60), Pipe: size("outlet pipe"),
			Water: rapid.SampledFrom([]string{"cold", "hot", "both"}).Draw(t, "water"),
			From:  rapid.SampledFrom([]string{"", "store"}).Draw(t, "from")})
	}
	j.Pipework.ToStore, j.Pipework.ToPump = length("to store", 0.2, 50), length("to pump", 0.2, 50)
	j.Pipework.ToHome, j.Pipework.Header = length("to home", 0.2, 50), length("header", 0.2, 50)
	j.Pipework.Drop = length("drop", 0.2, 50)
	j.Pipework.Outdoors, j.Pipework.Indoors = size("outdoors"), size("indoors")
	j.Pipework.Bends = val[quantity.Ratio](float64(rapid.IntRange(0, 9).Draw(t, "bends")))
	ch := &j.Choices
	j.Outlets = append(j.Outlets, job.Outlet{Tag: "drinking", Kind: "kitchen", Height: length("height", 0, 30), Distance: length("distance", 0.5, 60),
		Pipe: size("outlet pipe"), Water: "cold", From: "main"},
		job.Outlet{Tag: "cistern", Kind: "wc", Height: length("height", 0, 30), Distance: length("distance", 0.5, 60), Pipe: size("outlet pipe"), Water: "cold"})
	ch.Arrangement = rapid.SampledFrom(Arrangements()).Draw(t, "arrangement")
	if ch.Arrangement == Raised && rapid.Bool().Draw(t, "all from the store") {
		j.Outlets[len(j.Outlets)-2].From = ""
	}
	ch.Store, ch.Stores = key("store", "stores"), val[quantity.Ratio](float64(rapid.IntRange(1, 6).Draw(t, "stores")))
	ch.StoreLevel, ch.PumpLevel = length("store level", -20, 60), length("pump level", -20, 60)
	ch.Float, ch.Pump = key("float", "floats"), key("pump", "pumps")
	ch.HeaderRow, ch.HeaderFloat, ch.HeaderLevel = key("header", "stores"), key("header float", "floats"), length("header level", -20, 60)
	ch.Control = rapid.SampledFrom([]string{"pressure-switch", "flow-control", "speed-control"}).Draw(t, "control")
	ch.Pumps = val[quantity.Ratio](float64(rapid.IntRange(1, 3).Draw(t, "pumps")))
	ch.PumpDuty = rapid.SampledFrom([]string{"", "standby", "assist"}).Draw(t, "duty")
	ch.Vessel, ch.Backflow = key("vessel", "vessels", "none"), key("backflow", "non-returns", "none")
	ch.Expansion = key("heater vessel", "vessels", "none")
	ch.CutIn, ch.CutOut = val[quantity.Pressure](2e5), val[quantity.Pressure](3e5)
	ch.LockLow, ch.LockHigh = val[quantity.Pressure](1.2e5), val[quantity.Pressure](1.8e5)
	return j
}
