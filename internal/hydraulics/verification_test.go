package hydraulics

import "sync"

// what the tests of a whole run have held, for docs/verification.md.
var report struct {
	sync.Mutex
	campaigns map[string]int
}

func recordCampaign(name string, count int) {
	report.Lock()
	defer report.Unlock()
	if report.campaigns == nil {
		report.campaigns = map[string]int{}
	}
	report.campaigns[name] = count
}
