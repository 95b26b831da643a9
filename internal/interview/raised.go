package interview

import (
	"math"
	"strconv"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// mainSpare is what the main must press beyond the float valve, to fill anything in a night
// [m]. Judgement; the check has the last word.
const mainSpare = 3.0

// raised plans a store that feeds the home by its height, the main lifting the water up
// there; or says which answers leave no room for one.
func (v *Interview) raised(f *facts, p *plan) error {
	home := f.si("rise", quantity.LengthDim)
	foot, stand := home, assembly.GroundStand
	if f.text("place") == "roof" {
		foot, stand = home+float64(f.storeys())*storey+roofOver, assembly.RoofStand
	}
	p.level = math.Max(home+f.highest()+assembly.FirstFall-float64(p.store.Outlet), foot)
	p.level = math.Ceil(p.level*10) / 10
	p.highest = foot + stand
	if p.level > p.highest {
		return v.fight("ask.conflict.tower", "pump", "place", "storeys").
			with("high", f.metres(p.level-home)).with("most", f.metres(stand)).with("storeys", words.Say("ask.storeys."+f.text("storeys"), nil))
	}
	main, _, _ := f.pressure()
	if reach, need := main/circuitWeight, p.level+float64(p.store.Inlet)+mainSpare; reach < need {
		return v.fight("ask.conflict.no-lift", "pump", "pressure", "storeys", "rise").
			with("have", f.metres(reach)).with("need", f.metres(need))
	}
	p.arrangement = assembly.Raised
	p.outdoors, p.indoors = "PE100-SDR11 40", "multilayer 32"
	if f.sys == quantity.US {
		p.outdoors, p.indoors = "copper-L 1-1/4", "copper-L 1"
	}
	return nil
}

// metres is a height in words.
func (f *facts) metres(m float64) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.LengthDim, SI: m, Half: 0.1, Basis: quantity.Derived}, f.sys)
}

// higher are the heights the store can still be lifted to, the lowest first.
func (p *plan) higher(now float64) [][]job.Edit {
	var list [][]job.Edit
	for up := now + assembly.LiftStep; up <= p.highest+1e-9; up += assembly.LiftStep {
		list = append(list, []job.Edit{{Op: job.Set, Path: "choices.store.level", Text: strconv.FormatFloat(up, 'f', 2, 64) + " m"}})
	}
	return list
}
