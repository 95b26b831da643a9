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
	o := job.Options{Rows: cat.Has}
	doc, faults := o.Read(name, src)
	if len(faults) > 0 {
		return doc, faults
	}
	if o.Rule = ruled(cat, doc.Job.Profile); o.Rule == nil {
		return doc, nil
	}
	return o.Read(name, src)
}

// ruled returns the defaults a profile sets in place of the field table's, or nil when
// it sets none. Which profile counts is known only once the file has been read.
func ruled(cat *catalogue.Catalogue, profile string) func(key string) (text, source string, ok bool) {
	rules, sets := cat.Profiles[profile].Rules, false
	for _, f := range job.Fields() {
		sets = sets || f.Rule != "" && rules[f.Rule].Set
	}
	if !sets {
		return nil
	}
	return func(key string) (text, source string, ok bool) {
		r := rules[key]
		return r.Text, cat.Sources[r.Source], r.Set
	}
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
