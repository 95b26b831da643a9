package service

import (
	"math"
	"slices"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
)

// TestIdleByHand: on the main the way from the store through the pump to the tee stands, and holds
// what its bores and lengths hold; where all water goes through the store nothing does but what the
// store is by-passed by.
func TestIdleByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*job.Job)
		want   []assembly.Purpose
		others int
		litres float64
	}{
		{"kestrel-rise", nil, []assembly.Purpose{assembly.AsLinkRun, assembly.AsSuctionRun, assembly.AsBoostRun}, 2, 6.5 * 0.5309}, // 32 × 3.0
		{"juniper-flat", nil, []assembly.Purpose{assembly.AsSuctionRun, assembly.AsBoostRun}, 2, (5 + 6) * 0.3048 * 0.3122},        // 22.2 mm outside, 1.14 mm thick
		{"osprey-house", nil, nil, 0, 0},
		{"lantern-row", nil, nil, 0, 0},
	} {
		h := readSite(t, c.name, c.change)
		got, err := IdleIn(h.circuit, Read(h.job, h.plan, h.cat, h.profile))
		if err != nil {
			t.Fatal(err)
		}
		var stand []assembly.Purpose
		for _, tag := range got.Runs {
			p := h.plan.Parts[h.plan.Index(tag)]
			stand = append(stand, p.Purpose)
		}
		if !slices.Equal(stand, c.want) || len(got.Others) != c.others || math.Abs(1000*float64(got.Volume)-c.litres) > 0.02 {
			t.Errorf("%s: %v, %v, %.3f L", c.name, stand, got.Others, 1000*got.Volume)
		}
	}
}
