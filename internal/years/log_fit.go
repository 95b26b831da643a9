package years

import (
	"strconv"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/outage"
	"tideover/internal/words"
)

// logOf judges whether the log is one that the law of the odds would bring forth.
func logOf(l *outage.Against) finding.Finding {
	f := finding.New("log-fit", "", "")
	f.Source = words.Say("limit.log-fit", nil)
	f.Name("count", strconv.Itoa(l.Count))
	if l.Count == 0 {
		f.Name("enough", strconv.Itoa(outage.FewTelled))
		f.Blank("interruptions.log")
		return f
	}
	f.Verdict = finding.Fine
	var says []string
	for _, id := range l.Says {
		says = append(says, words.Say(id, nil))
	}
	if len(says) > 0 {
		f.Verdict = finding.LookAt
		f.Name("says", strings.Join(says, " "))
	}
	return f
}
