package job

// Foul is the fluid category of water that nobody may drink and that must never get back:
// rain, a borehole, a tanker, what an animal or a bucket leaves (EN 1717, category 5).
const Foul = "5"

// Fluid is the fluid category of the stored water: as told, but 5 where anything beside the
// main gets into the store, or may.
func (c *Choices) Fluid() string {
	switch {
	case c.Also != "" && c.Also != "none":
		return Foul
	case c.Category == "":
		return "3"
	}
	return c.Category
}

// Submerged reports whether an outlet's mouth lies under water, or may.
func (o *Outlet) Submerged() bool { return o.Mouth == "under-water" || o.Mouth == "unknown" }

// Fluid is the fluid category of what can be sucked back at an outlet by what hangs there; ""
// where nothing does, or nobody has said.
func (o *Outlet) Fluid() string {
	if o.Submerged() {
		return Foul
	}
	return hung[o.Hangs]
}

// hung is the category of what hangs at a tap with its end in the air: EN 1717 as water
// suppliers read it for homes. A sprayer may hold weed killer; a hand spray hangs over a WC; a
// drip line lies in the soil.
var hung = map[string]string{"hose": "3", "appliance": "3", "drip-line": "4", "sprayer": Foul, "hand-spray": Foul}
