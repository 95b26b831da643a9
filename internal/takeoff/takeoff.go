// Package takeoff makes the buying list from the assembly.
//
// Stage: an analysis; assembly and the user's own prices in, List out.
package takeoff

import "tideover/internal/quantity"

// Line is one thing to buy. Kept parts are listed with Count 0 and Kept set.
type Line struct {
	Row     string // catalogue key
	Words   string // what to ask for at the merchant
	Size    string
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
