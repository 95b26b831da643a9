package outage

// Subject is what a note is said of.
type Subject uint8

// The subjects.
const (
	OfWater Subject = iota
	OfWeak          // of times in which the water is weak
	OfPower
)

// Note is something that was assumed or noticed on the way from a job to a model, by
// the id of the sentence that says it, with figures in SI by name.
type Note struct {
	ID   string
	Args map[string]float64
	Of   Subject
}
