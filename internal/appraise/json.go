package appraise

import (
	"bytes"
	"encoding/json"

	"tideover/internal/finding"
	"tideover/internal/job"
)

// document is the stable JSON form of an appraisal: fields may be added, meanings do
// not change, readers ignore what they do not know.
type document struct {
	Format   int             `json:"format"`
	Name     string          `json:"name"`
	Date     string          `json:"date"`
	Profile  string          `json:"profile"`
	Units    string          `json:"units"`
	Verdict  string          `json:"verdict"`
	Findings json.RawMessage `json:"findings"`
	Moved    []jsonLeaf      `json:"moved"`
	Unmoved  []string        `json:"not-moved"`
	Proof    *jsonProof      `json:"proof,omitempty"`
	Rests    []jsonRests     `json:"assumptions,omitempty"`
}

// jsonLeaf is what was moved for the counts of the findings, and how far.
type (
	jsonLeaf struct {
		Path    string      `json:"path"`
		Assumed bool        `json:"assumed"`
		Values  []jsonShift `json:"values"`
	}
	jsonShift struct {
		Path string  `json:"path"`
		Down float64 `json:"down"`
		Up   float64 `json:"up"`
	}
)

func leavesJSON(leaves []job.Leaf) []jsonLeaf {
	list := make([]jsonLeaf, len(leaves))
	for i, l := range leaves {
		list[i] = jsonLeaf{Path: l.Path, Assumed: l.Taken, Values: make([]jsonShift, len(l.Moves))}
		for k, m := range l.Moves {
			list[i].Values[k] = jsonShift(m)
		}
	}
	return list
}

// JSON returns the appraisal as indented JSON; docs/json.md describes it.
func (a *Appraisal) JSON() ([]byte, error) {
	list, err := finding.JSON(a.Findings, a.Job.System())
	if err != nil {
		return nil, err
	}
	return indented(document{
		Format: 1, Name: a.Job.Name, Date: a.Job.Date, Profile: a.Job.Profile, Units: a.Job.Units,
		Verdict: a.Verdict.ID(), Findings: list,
		Moved: leavesJSON(a.Moved), Unmoved: append([]string{}, a.Unmoved...), Proof: a.Proof.json(a.Job.System()), Rests: restsJSON(a.Rests),
	})
}

// indented is a document as JSON that people can read too.
func indented(doc any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(doc)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}
