package catalogue

import (
	"math"
	"strconv"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// useColumns are those of the table of uses.
var useColumns = rowed("key", may(text("kind")), text("group"), of("day", quantity.NoDim), of("volume", quantity.VolumeDim), of("volume-spread", quantity.NoDim),
	may(of("flow", quantity.FlowDim)), of("flow-spread", quantity.NoDim), of("swing", quantity.RatioDim),
	of("careful-keep", quantity.RatioDim), of("careful-less", quantity.RatioDim), of("hard-keep", quantity.RatioDim), of("hard-less", quantity.RatioDim),
	may(text("hours")), may(text("weekend")))

// useGroups are what the number of draws may go by.
var useGroups = []string{"person", "home", "outside", "steady"}

func addUse(c *Catalogue, r *record) {
	key := r.word("key")
	u := Use{Row: r.row(key), Kind: r.maybe("kind"), Group: r.word("group"), PerDay: r.num("day", 0, 500),
		Volume: quantity.Volume(r.num("volume", 1e-5, 1)), Flow: quantity.Flow(r.opt("flow", 1e-6, 0.02)), Swing: r.num("swing", 0, 1),
		VolumeSpread: r.num("volume-spread", 0, 2), FlowSpread: r.num("flow-spread", 0, 1),
		Keep: [2]float64{r.num("careful-keep", 0, 1), r.num("hard-keep", 0, 1)},
		Less: [2]float64{r.num("careful-less", 0, 1), r.num("hard-less", 0, 1)}}
	if !contains(useGroups, u.Group) {
		r.fail("group", "catalogue.rule-choice", words.Args{"choices": strings.Join(useGroups, ", ")})
	}
	if u.Group != "steady" {
		r.word("kind")
		r.num("flow", 1e-6, 0.02)
		u.Hours, u.Weekend = r.weights("hours"), r.weights("weekend")
	}
	put(c.Uses, r, key, u)
}

// weights returns the 24 weights of a day's hours.
func (r *record) weights(col string) (list [24]float64) {
	words := strings.Fields(r.word(col))
	sum := 0.0
	for h, w := range words {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil || h >= len(list) || !(v >= 0) || math.IsInf(v, 0) {
			r.fail(col, "catalogue.weights", nil)
			return list
		}
		list[h], sum = v, sum+v
	}
	if len(words) != len(list) || sum == 0 {
		r.fail(col, "catalogue.weights", nil)
	}
	return list
}
