package quantity

import "tideover/internal/words"

// systemKeys are the names a job file uses.
var systemKeys = [...]string{Metric: "metric", US: "us", Imperial: "imperial"}

// Systems returns the unit systems in order.
func Systems() []System { return []System{Metric, US, Imperial} }

// String returns the name a job file uses: metric, us or imperial.
func (s System) String() string { return systemKeys[s] }

// ParseSystem reads the name a job file declares its units with.
func ParseSystem(text string) (System, error) {
	for s, key := range systemKeys {
		if key == text {
			return System(s), nil
		}
	}
	return Metric, &ParseError{ID: "quantity.system", Args: map[string]string{"text": text}}
}

// Accepts returns examples of what Parse reads for d, in the reader's units:
// "3.2 bar, 320 kPa or 33 m head".
func Accepts(d Dim, sys System) string {
	id := "quantity.accepts." + d.Key()
	if own := id + "." + sys.String(); words.Has(own) {
		return words.Say(own, nil)
	}
	return words.Say(id, nil)
}
