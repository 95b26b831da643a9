package appraise

import (
	"bytes"
	"encoding/json"

	"tideover/internal/finding"
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
	Proof    *jsonProof      `json:"proof,omitempty"`
}

// JSON returns the appraisal as indented JSON; docs/json.md describes it.
func (a *Appraisal) JSON() ([]byte, error) {
	list, err := finding.JSON(a.Findings, a.Job.System())
	if err != nil {
		return nil, err
	}
	return indented(document{
		Format: 1, Name: a.Job.Name, Date: a.Job.Date, Profile: a.Job.Profile, Units: a.Job.Units,
		Verdict: a.Verdict.ID(), Findings: list, Proof: a.Proof.json(a.Job.System()),
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
