package catalogue

import (
	"embed"
	"maps"
	"sync"

	"tideover/internal/quantity"
)

//go:embed data/*.csv
var data embed.FS

var load = sync.OnceValues(func() (*Catalogue, error) {
	c := empty()
	for i := range tables {
		name := "data/" + tables[i].name + ".csv"
		b, err := data.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if err := read(c, name, b, &tables[i]); err != nil {
			return nil, err
		}
	}
	c.kinds = kindsOf(c.Fittings)
	return c, nil
})

// Nearly every run needs the tables: they are read while the other packages start. Who asks
// for them hears of faults.
func init() { go func() { _, _ = load() }() }

// Load returns the catalogue that ships with the tool. It is read once and shared: do
// not change it; Merge gives a copy.
func Load() (*Catalogue, error) { return load() }

// Merge returns a copy of c with the rows of one CSV file over it. The file's first line
// says which table it is ("table,pumps"); name is the file's name in messages. An error
// is a *Fault with its place.
func (c *Catalogue) Merge(name string, csv []byte) (*Catalogue, error) {
	out := c.clone()
	if err := read(out, name, csv, nil); err != nil {
		return nil, err
	}
	out.kinds = kindsOf(out.Fittings)
	return out, nil
}

func empty() *Catalogue {
	return &Catalogue{
		Pipes: map[quantity.Size]Pipe{}, Fittings: map[string]Fitting{}, Valves: map[string]Valve{},
		NonReturns: map[string]NonReturn{}, Floats: map[string]Float{}, Stores: map[string]Store{},
		Regulators: map[string]Regulator{}, Pumps: map[string]Pump{}, Vessels: map[string]Vessel{}, Elastic: map[string]Elastic{}, Joints: map[quantity.Size]Joint{}, Soils: map[string]Soil{}, Outlets: map[string]Outlet{},
		Heaters: map[string]Heater{}, Controls: map[string]Control{}, Sundries: map[string]Sundry{}, Together: map[string]Together{}, Uses: map[string]Use{},
		Profiles: map[string]Profile{}, Sources: map[string]string{},
	}
}

func (c *Catalogue) clone() *Catalogue {
	out := &Catalogue{
		Pipes: maps.Clone(c.Pipes), Fittings: maps.Clone(c.Fittings), Valves: maps.Clone(c.Valves),
		NonReturns: maps.Clone(c.NonReturns), Floats: maps.Clone(c.Floats), Stores: maps.Clone(c.Stores),
		Regulators: maps.Clone(c.Regulators), Pumps: maps.Clone(c.Pumps), Vessels: maps.Clone(c.Vessels), Elastic: maps.Clone(c.Elastic), Joints: maps.Clone(c.Joints), Soils: maps.Clone(c.Soils), Outlets: maps.Clone(c.Outlets),
		Heaters: maps.Clone(c.Heaters), Controls: maps.Clone(c.Controls), Sundries: maps.Clone(c.Sundries), Together: maps.Clone(c.Together), Uses: maps.Clone(c.Uses),
		Profiles: maps.Clone(c.Profiles), Sources: maps.Clone(c.Sources),
	}
	for k, p := range out.Profiles {
		p.Rules = maps.Clone(p.Rules)
		out.Profiles[k] = p
	}
	return out
}
