package appraise

import (
	"testing"

	"tideover/internal/finding"
	"tideover/internal/job"
)

const fiveOff = "start,end\n2025-03-02 08:00,2025-03-02 14:00\n2025-05-10 09:00,2025-05-10 13:30\n2025-08-01 10:00,2025-08-01 21:00\n" +
	"2025-11-20 07:00,2025-11-20 12:00\n2026-02-14 09:00,2026-02-14 17:00\n"

// TestCheckReadsTheLog: what check judges the store against is what the log comes to, and the same
// in the years; a remedy is tried with it too. Without its bytes nothing is judged.
func TestCheckReadsTheLog(t *testing.T) {
	in := input(t, "juniper-flat")
	in, err := in.With(append(sets("interruptions.log", "out.csv", "interruptions.boil-notice", "no"), job.Edit{Op: job.Unset, Path: "interruptions.habit"})...)
	if err != nil {
		t.Fatal(err)
	}
	blind, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	if f := of(t, blind, "carry-time", ""); f.Verdict != finding.NotJudged {
		t.Errorf("without the log's bytes: %s", f.Verdict.ID())
	}
	logs := Logs{Water: []byte(fiveOff)}
	if in, err = in.WithLogs(logs); err != nil {
		t.Fatal(err)
	}
	a, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	f := of(t, a, "carry-time", "")
	if f.Verdict == finding.NotJudged || float64(a.Store.Longest) < 11*3600 || float64(a.Store.Longest) > 72*3600 {
		t.Errorf("five interruptions of 4.5 to 11 h: %s, the longest in ten years %v h", f.Verdict.ID(), a.Store.Longest/3600)
	}
	y, err := LiveThrough(t.Context(), in, YearsAsk{Brief: true, Logs: logs, alone: true, futures: 2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if y.Lasts.Longest != float64(a.Store.Longest) {
		t.Errorf("the years judge against %v h, check against %v h", y.Lasts.Longest/3600, a.Store.Longest/3600)
	}
	next, err := in.With(sets("choices.store.count", "2")...)
	if err != nil || len(next.Job.Logged) == 0 {
		t.Errorf("with an edit the log is lost: %v", err)
	}
	if _, err := in.WithLogs(Logs{Water: []byte("nonsense")}); err == nil {
		t.Error("a log that is none is read")
	}
}

// TestCheckReadsTheLogOfPowerCuts: a battery is sized for what the log comes to, and a tried remedy
// keeps it; nothing of the water moves.
func TestCheckReadsTheLogOfPowerCuts(t *testing.T) {
	in := input(t, "kestrel-rise")
	in, err := in.With(append(sets("interruptions.power-log", "cuts.csv"), job.Edit{Op: job.Unset, Path: "interruptions.power-cuts"})...)
	if err != nil {
		t.Fatal(err)
	}
	cutOf := func(in Input) (cut float64, longest float64) {
		a, err := Quick(in)
		if err != nil {
			t.Fatal(err)
		}
		return float64(a.Power.Cut), float64(a.Store.Longest)
	}
	blind, before := cutOf(in)
	if blind != 0 {
		t.Fatalf("without the log's bytes a cut lasts %v s", blind)
	}
	if in, err = in.WithLogs(Logs{Power: []byte(fiveOff)}); err != nil {
		t.Fatal(err)
	}
	cut, after := cutOf(in)
	if cut < 8*3600 || cut > 48*3600 {
		t.Errorf("five cuts of 4.5 to 11 h: the longest usual one %v h", cut/3600)
	}
	if before != after {
		t.Errorf("the longest interruption %v s, with the log of power cuts %v s", before, after)
	}
	next, err := in.With(sets("choices.store.count", "3")...)
	if err != nil || len(next.Job.CutsLogged) != 1 {
		t.Errorf("with an edit the log is lost: %v", err)
	}
	if _, err := in.WithLogs(Logs{Power: []byte("nonsense")}); err == nil {
		t.Error("a log that is none is read")
	}
}
