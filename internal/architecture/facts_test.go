package architecture

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// TestFactsAreReadOnce: what a job says of the main by the hour, of the litres a home uses, of
// who is away and of a timetable is read by site, in one way, for every analysis.
func TestFactsAreReadOnce(t *testing.T) {
	own := regexp.MustCompile(`\.(PeakRes|PeakFlow|PeakFrom|PeakTo|NightMax|Home\.Away|Interruptions\.(Habit|Timetable))\b|Home\.(People|Use)\.V\) *\*`)
	may := map[string]string{
		"job":  "it reads the file",
		"site": "it makes the facts",
	}
	seen := map[string]bool{}
	for _, p := range packages(t) {
		name := filepath.Base(p.ImportPath)
		for _, f := range p.GoFiles {
			b, err := os.ReadFile(filepath.Join(p.Dir, f))
			if err != nil {
				t.Fatal(err)
			}
			m := own.Find(b)
			if m == nil {
				continue
			}
			if _, ok := may[name]; ok {
				seen[name] = true
				continue
			}
			t.Errorf("%s/%s reads %s; reason: a fact of a job is read in one place, internal/site", p.ImportPath, f, m)
		}
	}
	for name := range may {
		if !seen[name] {
			t.Errorf("%s reads no fact: the search is broken", name)
		}
	}
}
