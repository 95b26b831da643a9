package catalogue

// Tables lists the tables whose rows a job file names, in the order of the work.
func Tables() []string {
	return []string{"profiles", "pipes", "meters", "stop-valves", "non-returns", "heaters", "outlets",
		"stores", "floats", "regulators", "pumps", "vessels", "uses"}
}

// Listed is one row as a list shows it.
type Listed struct {
	Key, Words string
	Certainty  Certainty
	Source     string // the citation
}

// List returns the rows of one of Tables, ordered by key.
func (c *Catalogue) List(table string) []Listed {
	var list []Listed
	for _, key := range c.Keys(table) {
		r := c.row(table, key)
		list = append(list, Listed{Key: key, Words: r.Words, Certainty: r.Certainty, Source: c.Cite(r.Source)})
	}
	return list
}

// Words returns what a row of a listed table is called; ok is false where there is no such
// row, or it has no words.
func (c *Catalogue) Words(table, key string) (words string, ok bool) {
	words = c.row(table, key).Words
	return words, words != ""
}

// row returns what a row of any listed table has in common with the others.
func (c *Catalogue) row(table, key string) Row {
	switch table {
	case "profiles":
		return Row{Key: key, Words: c.Profiles[key].Words}
	case "pipes":
		for s, p := range c.Pipes {
			if s.String() == key {
				return p.Row
			}
		}
	case "valves", "meters", "stop-valves":
		return c.Valves[key].Row
	case "non-returns":
		return c.NonReturns[key].Row
	case "heaters":
		return c.Heaters[key].Row
	case "outlets":
		return c.Outlets[key].Row
	case "stores":
		return c.Stores[key].Row
	case "regulators":
		return c.Regulators[key].Row
	case "floats":
		return c.Floats[key].Row
	case "pumps":
		return c.Pumps[key].Row
	case "vessels":
		return c.Vessels[key].Row
	case "uses":
		return c.Uses[key].Row
	}
	return Row{Key: key}
}
