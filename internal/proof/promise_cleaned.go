package proof

import "tideover/internal/assembly"

// storeCleaned: the store can be emptied and cleaned while the home runs: some setting
// that a card names takes it out of the way and still brings the main to the taps.
type storeCleaned struct{}

// About says what is promised.
func (storeCleaned) About() About {
	return About{ID: "store-cleaned", Kind: Reach, Spread: SomeNamed, Source: "trade"}
}

// Judge asks for a setting in which neither the street fills the store nor the store
// reaches the pump or a tap, and the street reaches a tap.
func (storeCleaned) Judge(v *View) Judgement {
	in := v.Input()
	stores := in.Assembly.Of(assembly.Store)
	if len(stores) == 0 || !v.Main(Good) {
		return none()
	}
	for _, f := range in.Assembly.Of(assembly.FloatValve) {
		if v.Reaches(f, 0, Street) != NoSource {
			return broken(in.tag(f))
		}
	}
	for _, s := range stores {
		for k := range in.Assembly.Parts[s].Ports {
			for _, pump := range in.Circuit.Pumps() {
				if v.Joined(s, k, pump, 0) {
					return broken(in.tag(s))
				}
			}
		}
	}
	for _, o := range in.Assembly.Of(assembly.Outlet) {
		if v.Reaches(o, 0, Stored) != NoSource {
			return broken(in.tag(o))
		}
		if v.Reaches(o, 0, Street) != NoSource {
			return kept()
		}
	}
	return broken(in.tag(stores[0]))
}
