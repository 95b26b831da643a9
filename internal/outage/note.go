package outage

// Note is something that was assumed or noticed on the way from a job to a model, by
// the id of the sentence that says it, with figures in SI by name.
type Note struct {
	ID    string
	Args  map[string]float64
	Power bool // it is said of the power, not of the water
}
