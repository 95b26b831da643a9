package catalogue

// WaterGrade is the id of the words for how bad a water is, as the codes of the profile's
// place grade it: by fluid category where EN 1717 holds, by hazard elsewhere. The job grades
// by category everywhere: 2 and 3 are a low hazard where there are two, 3 a medium one where
// there are three, 4 and 5 a high one. A profile that leaves its scale blank has the category.
func (p *Profile) WaterGrade(category string) string {
	scale := p.Rule("backflow-scale").Text
	if scale == "" {
		scale = "category"
	}
	return "water." + scale + "." + category
}
