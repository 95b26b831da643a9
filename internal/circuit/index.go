package circuit

import "tideover/internal/quantity"

// PartOf returns the part an element belongs to.
func (c *Circuit) PartOf(element int32) int { return int(c.part[element]) }

// Opens returns the elements that a hand-turned part lets pass in a position.
func (c *Circuit) Opens(part int, position string) []int32 {
	var list []int32
	for _, w := range c.ways[part] {
		if has(w.positions, position) {
			list = append(list, w.element)
		}
	}
	if len(c.ways[part]) == 0 && c.element[part] >= 0 && position == "open" {
		list = append(list, c.element[part])
	}
	return list
}

// Touching returns the elements at a point. The caller must not change them.
func (c *Circuit) Touching(point int32) []int32 { return c.touching[point] }

// GaugeHead returns the head above the datum of a pressure read at the main's gauge [m].
func (c *Circuit) GaugeHead(p quantity.Pressure) float64 { return HeadOf(p, c.in.Gauge) }
