// Package site is what an analysis takes from a job: the main by the hour, the people and
// the water they use, when the main is off, and the local rules that several analyses rest
// on. Each fact is worked out here, once and in one way, so that two analyses cannot read
// one line of the job file differently.
//
// Stage: between the assembly and the analyses. It takes a job, its assembly and a profile
// and gives bare typed facts, SI. It solves no circuit, judges nothing and says nothing.
package site

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Site is the facts of one job.
type Site struct {
	Main          Main
	Household     Household
	Interruptions Interruptions

	// Margin is how far below the overflow's lip a store's float valve is set shut.
	Margin quantity.Length

	// Cover is how far above its outlet's centre the store's water stands when no more is drawn.
	Cover quantity.Length
}

// Of reads the facts of a job whose assembly is laid out. p may be nil: no local rules.
func Of(j *job.Job, a *assembly.Assembly, p *catalogue.Profile) *Site {
	return &Site{
		Main: MainOf(j), Household: HouseholdOf(j, a), Interruptions: InterruptionsOf(j),
		Margin: OverflowMargin(p, j.Assumed), Cover: Cover(a),
	}
}

// Told reports whether a field's value is written in the job file, as a guess too, and is
// not one that stands where nothing is written.
func Told[T ~float64](v quantity.Val[T]) bool {
	return v.Basis != quantity.Assumed || v.From == job.FromFile || v.From == "" && v.V != 0
}
