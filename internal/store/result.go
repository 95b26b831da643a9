// Package store works out what the store does for the home: usable water, carry time,
// turnover, as plain arithmetic and labelled so.
//
// Stage: an analysis; job figures in, Result out, findings read off it.
package store

import (
	"tideover/internal/circuit"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// Result is the arithmetic of the store.
type Result struct {
	Usable   quantity.Volume // level at which the float valve shuts to the one from which on no more is drawn, all stores
	Dead     quantity.Volume // below that
	Cover    quantity.Length // above the outlet's centre, when no more is drawn of the store below
	Sold     quantity.Volume // what all stores are sold as
	Mass     quantity.Mass   // of one full store with its shell
	Daily    quantity.Volume // what the home uses in a day
	Carry    quantity.Time   // usable ÷ daily
	Longest  quantity.Time   // longest interruption told; 0 unknown
	Begins   quantity.Volume // in it when the interruption that is judged begins: Usable, but in a row
	Lasts    quantity.Time   // Begins ÷ daily
	Judged   quantity.Time   // longest of the kind that is judged: Longest, but in a row
	Row      *site.Row       // how those follow each other, where the store is not full when one begins
	Short    quantity.Volume // missing at the end of Judged; 0 when it lasts
	Fewer    quantity.Time   // carry time with one store fewer; 0 with a single one
	Beyond   []Spell         // kinds of interruption that one store fewer would not outlast
	Turnover quantity.Time   // between complete renewals of the store; +Inf: never
	Through  quantity.Volume // drawn through the store in an average day
	Routine  circuit.Routine // running the home on the store on purpose; zero: none
	Each     quantity.Volume // drawn by it each time

	Header      quantity.Volume // usable in a header tank, part of Usable; 0 without one
	HeaderMass  quantity.Mass   // of it full, with its shell
	HeaderCarry quantity.Time   // Header ÷ daily: how long the taps run with the pump standing
}
