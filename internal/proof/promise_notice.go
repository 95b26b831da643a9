package proof

import "tideover/internal/assembly"

// noticeShut: while the street's water must be boiled, none of it gets into the store. The
// float valve takes in whatever comes the moment the main returns; the feed must be shut
// by hand and stay shut.
type noticeShut struct{}

// About says what is promised.
func (noticeShut) About() About {
	return About{ID: "notice-shut", Kind: Reach, Spread: NamedOnly, Safety: true, Source: "trade"}
}

// Judge asks, in the setting the card names for a notice, whether the street can press on
// the float valve.
func (noticeShut) Judge(v *View) Judgement {
	in := v.Input()
	floats := in.Assembly.Of(assembly.FloatValve)
	if len(floats) == 0 {
		return none()
	}
	if in.Assembly.Setting("boil-notice") == nil {
		return unjudged("no-notice-setting")
	}
	if !v.In("boil-notice") {
		return none()
	}
	for _, f := range floats {
		if v.Reaches(f, 0, Street) == NoSource {
			continue
		}
		return broken(in.tag(f))
	}
	return kept()
}
