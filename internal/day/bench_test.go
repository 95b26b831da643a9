package day

import "testing"

// BenchmarkDay: an ordinary day, and one on which the water fails, on Kestrel Rise; by
// events (wanted: 50 ms) and at one-second steps (wanted: 0.3 s).
func BenchmarkDay(b *testing.B) {
	h := home(b, "kestrel-rise")
	days := map[string]*Schedule{"usual": Usual(h.ci, h.p, h.in), "failing": Failing(h.ci, h.p, h.in)}
	runs := map[string]func(*Plant, *Schedule) (*Result, error){"events": ByEvents, "steps": BySteps}
	for name, d := range map[string]string{"usual/loose": "usual", "failing/loose": "failing"} {
		loose := *days[d]
		loose.Loose = check
		days[name] = &loose
	}
	for _, day := range []string{"usual", "failing", "usual/loose", "failing/loose"} {
		for _, how := range []string{"events", "steps"} {
			b.Run(day+"/"+how, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					r, err := runs[how](h.p, days[day])
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(r.Solves), "solves/op")
				}
			})
		}
	}
}
