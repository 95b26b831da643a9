package appraise

import "tideover/internal/finding"

// Quick appraises a job once, within a few milliseconds: every figure and verdict, but no
// spread, no tried remedy, no day and no proof. It is what a page shows at once while Run
// goes on. The error is as Run's.
func Quick(in Input) (*Appraisal, error) {
	a, err := evaluate(in, true)
	if err != nil {
		return nil, err
	}
	cite(in, a.Findings)
	finding.Order(a.Findings)
	a.Verdict = finding.Overall(a.Findings)
	return a, nil
}
