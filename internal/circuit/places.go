package circuit

// PointOf returns the point of the circuit at a port of a part.
func (c *Circuit) PointOf(part, port int) int32 { return c.point[part][port] }

// ElementOf returns the element of a part, the first of several ways; −1 when it has none.
func (c *Circuit) ElementOf(part int) int32 { return c.element[part] }

// SurfacePoints returns the points held at the store's level. The caller must not change them.
func (c *Circuit) SurfacePoints() []int32 { return c.surface }

// UpperPoints returns the points held at the header tank's level; none without one. The
// caller must not change them.
func (c *Circuit) UpperPoints() []int32 { return c.upper }

// StreetPoint returns the point at which the main's head is held; −1 when there is no main.
func (c *Circuit) StreetPoint() int32 { return c.street }
