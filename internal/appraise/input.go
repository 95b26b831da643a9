package appraise

import (
	"fmt"

	"tideover/internal/catalogue"
	"tideover/internal/job"
)

// ReadDoc reads a job file against a catalogue: rows are checked where they stand, and
// fields left out take what the job's local-rules profile says. Without faults the Doc is
// ready for NewInput.
func ReadDoc(cat *catalogue.Catalogue, name string, src []byte) (*job.Doc, job.Faults) {
	return job.Options{Rows: cat.Has, Rule: func(profile, key string) (text, source string, ok bool) {
		r := cat.Profiles[profile].Rules[key]
		return r.Text, cat.Cite(r.Source), r.Set
	}}.Read(name, src)
}

// NewInput is a job with the tables it needs. The error is a fault of ours: a profile that
// the reader let pass is in the catalogue.
func NewInput(cat *catalogue.Catalogue, doc *job.Doc) (Input, error) {
	profile, ok := cat.Profiles[doc.Job.Profile]
	if !ok {
		return Input{}, fmt.Errorf("appraise: profile %q passed the reader but is not in the catalogue", doc.Job.Profile)
	}
	return Input{Doc: doc, Job: doc.Job, Catalogue: cat, Profile: &profile}, nil
}
