// Package takeoff makes the buying list from the assembly.
//
// Stage: an analysis; assembly and the user's own prices in, List out.
package takeoff

import (
	"strconv"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Line is one thing to buy. Kept parts are listed with Count 0 and Kept set.
type Line struct {
	Row     string          // catalogue key
	Words   string          // what to ask for at the merchant
	Size    string          // as the catalogue marks it
	Thread  bool            // the size is that of a thread
	Count   int             // pieces; for pipe the number of stock lengths or coils
	Length  quantity.Length // pipe: what lies in the runs, without waste
	Waste   quantity.Length // pipe: what is bought on top for cutting, before rounding up to stock
	Stock   quantity.Length // pipe: the length or coil it is sold in
	Tags    []string        // parts it is for
	Price   quantity.Money  // each; 0 when unpriced
	Priced  bool
	Kept    bool
	Assumed bool // the row is trade knowledge, not a checked source
}

// List is the buying list.
type List struct {
	Lines    []Line
	Total    quantity.Money // of the priced lines
	Unpriced int            // lines without a price: the total says so
	Currency string
}

// Asked is the size as it is asked for: with its unit, and said to be a thread where it is.
// A mark that is a whole number is in mm, any other in inches.
func (l *Line) Asked() string {
	switch _, err := strconv.Atoi(l.Size); {
	case l.Size == "":
		return ""
	case l.Thread && !strings.Contains(l.Words, "thread"): // else what is asked for says so
		return words.Say("takeoff.thread", words.Args{"size": l.Size})
	case err == nil && !l.Thread:
		return words.Say("takeoff.mm", words.Args{"size": l.Size})
	default:
		return words.Say("takeoff.inch", words.Args{"size": l.Size})
	}
}
