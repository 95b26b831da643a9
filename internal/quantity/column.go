package quantity

// Column prints several values of one dimension in one unit, as a table or an axis needs
// them: the unit stands once at the head.
type Column struct {
	Unit string // as printed, "" for plain numbers
	unit *unit
}

// ColumnFor returns the column whose unit suits the value largest [SI] in size, in the
// reader's units.
func ColumnFor(d Dim, largest float64, sys System) Column {
	u := shown(Quantity{Dim: d, SI: largest}, sys)
	return Column{Unit: u.label(sys), unit: u}
}

// Number returns the SI value si in the column's unit.
func (c Column) Number(si float64) float64 { return c.unit.number(si) }

// SI returns the SI value of a number in the column's unit.
func (c Column) SI(number float64) float64 { return (number + c.unit.offset) * c.unit.per }

// Text prints the SI value si in the column's unit with so many decimals, as Fixed does.
func (c Column) Text(si float64, places int) string { return Fixed(c.Number(si), places) }
