package interview

import (
	"context"
	"slices"
	"testing"
)

// TestOutlook: a call says yes, no, or on which answer it hangs; what it says of each option
// is what comes of giving that option.
func TestOutlook(t *testing.T) {
	v := interview(t)
	for name, x := range map[string]struct {
		answers Answers
		draft   bool
		open    string
	}{
		"an ordinary home":            {Answers{}, true, ""},
		"nobody has seen the heater":  {Answers{"heater": Unknown}, true, "heater"},
		"it is vented":                {Answers{"heater": "storage-vented", "pump": "yes"}, false, ""},
		"a gate no tank goes through": {Answers{"door": "0.3 m"}, false, ""},
		"nothing may be spent":        {Answers{"budget": "0"}, false, ""},
	} {
		o, err := v.Outlook(context.Background(), x.answers)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if (o.Draft != nil) != x.draft || (o.No != nil) == x.draft || (o.Open == nil) != (x.open == "") {
			t.Errorf("%s: %+v", name, o)
			continue
		}
		if o.Open == nil {
			continue
		}
		if o.Open.Question != x.open || !slices.Contains(o.Open.Works, "storage-pressure") || !slices.Contains(o.Open.Fail, "storage-vented") {
			t.Errorf("%s: hangs on %+v", name, o.Open)
		}
	}
}
